//go:build unix

package stonefile

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// A saved file keeps its owner and its group, where we may give them.
func TestTheFileKeepsItsOwner(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("only root may give a file to somebody else")
	}
	b := newBench(t)
	const uid, gid = 12345, 23456
	require.NoError(t, os.Chown(b.file, uid, gid))
	s := b.open()
	require.NoError(t, s.Save(1, renamed(s.Stone(), "saved")))
	require.Contains(t, b.bytes(), `"saved"`)
	require.NoError(t, s.Close())
	info, err := os.Stat(b.file)
	require.NoError(t, err)
	u, g, ok := owner(info)
	require.True(t, ok)
	require.Equal(t, [2]int{uid, gid}, [2]int{u, g})
	require.Equal(t, os.FileMode(0o640), info.Mode().Perm())
}
