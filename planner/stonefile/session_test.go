package stonefile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// bench is a folder with the sample stone and a state folder of its own.
type bench struct {
	t       testing.TB
	file    string
	options Options
}

func newBench(t testing.TB) bench {
	t.Helper()
	dir := t.TempDir()
	b := bench{t, filepath.Join(dir, "work", "lantern.stone"),
		Options{Set: presets.Builtin(), StateFolder: filepath.Join(dir, "state")}}
	require.NoError(t, os.Mkdir(filepath.Dir(b.file), 0o755))
	require.NoError(t, os.WriteFile(b.file, []byte(sample), 0o640))
	return b
}

func (b bench) open() *Session {
	b.t.Helper()
	s, err := Open(b.file, b.options)
	require.NoError(b.t, err)
	b.t.Cleanup(func() { _ = s.Close() })
	return s
}

// kill ends a session as SIGKILL would: its locks and open files go, nothing else.
func (b bench) kill(s *Session) {
	b.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	if s.flush != nil && s.flush.Stop() {
		s.flushing.Done()
	}
	for _, l := range s.locks {
		require.NoError(b.t, l.file.Close())
	}
	if s.journal.file != nil {
		require.NoError(b.t, s.journal.file.Close())
	}
}

// left returns the names in the stone's folder and the state folder.
func (b bench) left() (names []string) {
	b.t.Helper()
	for _, dir := range []string{filepath.Dir(b.file), b.options.StateFolder} {
		entries, err := os.ReadDir(dir)
		require.NoError(b.t, err)
		for _, e := range entries {
			names = append(names, e.Name())
		}
	}
	return names
}

func (b bench) bytes() string {
	b.t.Helper()
	data, err := os.ReadFile(b.file)
	require.NoError(b.t, err)
	return string(data)
}

func renamed(s planner.Stone, name string) planner.Stone {
	s.Name = name
	return s
}

func TestAnEditedStoneIsSavedAndNothingIsLeftBeside(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.ReadOnly())
	require.Nil(t, s.Found())
	edited := renamed(s.Stone(), "Lantern Bay 8")
	require.NoError(t, s.Record(1, "Rename", edited))
	require.Contains(t, b.left(), ".lantern.stone.journal")
	require.NoError(t, s.Save(1, edited))
	require.NotContains(t, b.left(), ".lantern.stone.journal")
	require.Equal(t, string(format(edited)), b.bytes())
	info, err := os.Stat(b.file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o640), info.Mode().Perm(), "the file keeps its mode")
	require.NoError(t, s.Close())
	require.NoError(t, s.Close())
	require.Equal(t, []string{"lantern.stone"}, b.left())
	// Undone and saved again, the file is what it was first, to the byte.
	require.Equal(t, string(format(edited)), b.bytes())
}

func TestUndoneAndSavedTheFileIsTheFirstToTheByte(t *testing.T) {
	b := newBench(t)
	s := b.open()
	first := s.Stone()
	require.NoError(t, s.Save(1, renamed(first, "other")))
	require.NotEqual(t, sample, b.bytes())
	require.NoError(t, s.Save(2, first))
	require.Equal(t, sample, b.bytes())
}

func TestEditsOutliveAKill(t *testing.T) {
	b := newBench(t)
	s := b.open()
	stone := s.Stone()
	names := []string{"Rename", "Move corner 1", "Add crack"}
	stone.Name = "Ünder 漢字 \"quoted\""
	require.NoError(t, s.Record(1, names[0], stone))
	stone, err := planner.MoveCorner(stone, 0, geometry.Vec2{X: -15, Y: -2})
	require.NoError(t, err)
	require.NoError(t, s.Record(2, names[1], stone))
	stone, err = planner.AddCrack(stone, planner.Crack{Path: []geometry.Vec2{{X: 1, Y: 1}, {X: 2, Y: 5}},
		Face: planner.Base, Through: true})
	require.NoError(t, err)
	require.NoError(t, s.Record(3, names[2], stone))
	b.kill(s)
	require.Equal(t, sample, b.bytes())

	s = b.open()
	found := s.Found()
	require.NotNil(t, found)
	require.Equal(t, names, found.Names)
	require.Equal(t, 3, found.Edits)
	require.False(t, found.FileChanged)
	require.False(t, found.Cut)
	require.True(t, found.Stone.Equal(stone))
	require.NotEmpty(t, planner.Differences(s.Stone(), found.Stone))
	require.ErrorIs(t, s.Record(1, "x", stone), ErrUndecided)
	require.ErrorIs(t, s.Save(1, stone), ErrUndecided)

	got, err := s.Recover()
	require.NoError(t, err)
	require.True(t, got.Equal(stone))
	b.kill(s) // and once more, before anything is saved
	s = b.open()
	require.NotNil(t, s.Found())
	require.NoError(t, s.Discard())
	require.Nil(t, s.Found())
	require.NoError(t, s.Close())
	require.Equal(t, []string{"lantern.stone"}, b.left())
	require.Equal(t, sample, b.bytes())
}

func TestASecondOpenerMayOnlyLook(t *testing.T) {
	b := newBench(t)
	first, second := b.open(), b.open()
	require.NoError(t, first.ReadOnly())
	require.ErrorIs(t, second.ReadOnly(), ErrLocked)
	require.ErrorIs(t, second.Save(1, second.Stone()), ErrLocked)
	require.ErrorIs(t, second.Record(1, "x", second.Stone()), ErrReadOnly)
	require.NoError(t, second.Close())
	require.NoError(t, first.Record(1, "Rename", renamed(first.Stone(), "kept")), "a looker's leaving takes nothing away")
	require.NoError(t, first.Save(1, renamed(first.Stone(), "kept")))
	require.NoError(t, first.Close())
	require.NoError(t, b.open().ReadOnly())
}

func TestAFileChangedByAnotherProgramIsNotOverwritten(t *testing.T) {
	b := newBench(t)
	s := b.open()
	// Same size, same times: only the bytes tell.
	info, err := os.Stat(b.file)
	require.NoError(t, err)
	other := []byte(strings.Replace(sample, "rubbed", "ground", 1))
	require.NoError(t, os.WriteFile(b.file, other, 0o640))
	require.NoError(t, os.Chtimes(b.file, info.ModTime(), info.ModTime()))
	edited := renamed(s.Stone(), "mine")
	err = s.Save(1, edited)
	require.ErrorIs(t, err, ErrChanged)
	require.Equal(t, string(other), b.bytes())
	b.kill(s)
	s = b.open()
	require.True(t, s.Found().FileChanged, "the edits were made to another file than there is now")
	mine, err := s.Recover()
	require.NoError(t, err)
	require.NoError(t, s.SaveOver(1, mine))
	require.Equal(t, string(format(edited)), b.bytes())
}

func TestAFileSpoiltByAnotherProgramLeavesTheEdits(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "mine")))
	b.kill(s)
	require.NoError(t, os.WriteFile(b.file, []byte("spoilt"), 0o640))
	_, err := Open(b.file, b.options)
	require.ErrorContains(t, err, "not JSON")
	require.ErrorContains(t, err, "unsaved edits are kept in "+filepath.Join(filepath.Dir(b.file),
		".lantern.stone.journal"))
	require.NoError(t, os.WriteFile(b.file, []byte(sample), 0o640))
	require.Equal(t, "mine", b.open().Found().Stone.Name)
}

func TestALateCommandDoesNotUndoANewerOne(t *testing.T) {
	b := newBench(t)
	s := b.open()
	old, now := renamed(s.Stone(), "old"), renamed(s.Stone(), "now")
	require.NoError(t, s.Record(2, "Rename", now))
	require.NoError(t, s.Record(1, "Rename", old))
	b.kill(s)
	s = b.open()
	require.Equal(t, "now", s.Found().Stone.Name)
	_, err := s.Recover()
	require.NoError(t, err)
	require.NoError(t, s.Save(5, now))
	require.NoError(t, s.Save(4, old))
	require.Contains(t, b.bytes(), `"now"`)
}

func TestEditsMadeWhileSavingStayInTheJournal(t *testing.T) {
	b := newBench(t)
	s := b.open()
	first, second := renamed(s.Stone(), "first"), renamed(s.Stone(), "second")
	require.NoError(t, s.Record(1, "Rename", first))
	require.NoError(t, s.Record(2, "Rename again", second))
	require.NoError(t, s.Save(1, first))
	b.kill(s)
	s = b.open()
	require.Equal(t, "first", s.Stone().Name)
	require.Equal(t, "second", s.Found().Stone.Name)
	require.Equal(t, []string{"Rename again"}, s.Found().Names)
	require.False(t, s.Found().FileChanged)
}

func TestAnUnfinishedStoneIsKeptButNotSaved(t *testing.T) {
	b := newBench(t)
	b.file = filepath.Join(filepath.Dir(b.file), "fresh.stone")
	s := b.open()
	require.True(t, s.New())
	stone, err := planner.AddReading(s.Stone(), planner.Top, geometry.Vec3{Z: 5})
	require.NoError(t, err)
	require.NoError(t, s.Record(1, "Add reading", stone))
	err = s.Save(1, stone)
	require.ErrorContains(t, err, "outline: missing")
	require.NoFileExists(t, b.file)
	require.NoError(t, s.Close())
	s = b.open()
	require.True(t, s.Found().Stone.Equal(stone))
}

func TestSaveAsGoesOnWithTheOtherFile(t *testing.T) {
	b := newBench(t)
	s := b.open()
	edited := renamed(s.Stone(), "elsewhere")
	require.NoError(t, s.Record(1, "Rename", edited))
	other := filepath.Join(filepath.Dir(b.file), "other.stone")
	require.NoError(t, os.WriteFile(other, []byte("mine"), 0o644))
	require.ErrorIs(t, s.SaveAs(other, 1, edited, false), ErrExists)
	require.NoError(t, s.SaveAs(other, 1, edited, true))
	require.Equal(t, other, s.Path())
	require.Equal(t, sample, b.bytes())
	data, err := os.ReadFile(other)
	require.NoError(t, err)
	require.Equal(t, string(format(edited)), string(data))
	require.NoError(t, b.open().ReadOnly(), "the first file is free again")
	require.NoError(t, s.Save(2, renamed(edited, "again")))
	require.NoError(t, s.Close())
}

func TestSaveAsTheSameFileByAnotherPathIsASave(t *testing.T) {
	b := newBench(t)
	t.Chdir(filepath.Dir(b.file))
	s := b.open()
	require.NoError(t, s.SaveAs("./lantern.stone", 1, renamed(s.Stone(), "same"), false))
	require.Contains(t, b.bytes(), `"same"`)
	require.NoError(t, s.ReadOnly())
	around := filepath.Join(t.TempDir(), "around")
	require.NoError(t, os.Symlink(filepath.Dir(b.file), around))
	require.NoError(t, s.SaveAs(filepath.Join(around, "lantern.stone"), 2, renamed(s.Stone(), "again"), false))
	require.Contains(t, b.bytes(), `"again"`)
}

func TestUnsavedEditsOfAnotherStoneAreNotPassedOver(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "unsaved")))
	b.kill(s)
	stone := parseSample(t).Stone
	require.ErrorContains(t, Create(b.file, stone, true, b.options),
		"unsaved edits of an earlier stone of that name are kept")
	c := b
	c.file = filepath.Join(filepath.Dir(b.file), "other.stone")
	other := c.open()
	require.ErrorContains(t, other.SaveAs(b.file, 1, stone, true), "unsaved edits")
	require.NoError(t, other.Close())
	require.Equal(t, "unsaved", b.open().Found().Stone.Name)
}

func TestALookerCanSaveElsewhere(t *testing.T) {
	b := newBench(t)
	_, second := b.open(), b.open()
	other := filepath.Join(filepath.Dir(b.file), "other.stone")
	require.NoError(t, second.SaveAs(other, 0, second.Stone(), false))
	require.NoError(t, second.ReadOnly())
	data, err := os.ReadFile(other)
	require.NoError(t, err)
	require.Equal(t, sample, string(data))
}

func TestSavingFollowsLinksAndKeepsThem(t *testing.T) {
	b := newBench(t)
	dir := filepath.Dir(b.file)
	elsewhere := t.TempDir()
	link, second := filepath.Join(elsewhere, "a.stone"), filepath.Join(elsewhere, "b.stone")
	relative, err := filepath.Rel(elsewhere, b.file)
	require.NoError(t, err)
	require.NoError(t, os.Symlink(relative, link))
	require.NoError(t, os.Symlink(link, second))
	s, err := Open(second, b.options)
	require.NoError(t, err)
	require.ErrorIs(t, b.open().ReadOnly(), ErrLocked, "by another name it is the same stone")
	require.NoError(t, s.Save(1, renamed(s.Stone(), "linked")))
	require.NoError(t, s.Close())
	require.Contains(t, b.bytes(), "linked")
	for _, name := range []string{link, second} {
		info, err := os.Lstat(name)
		require.NoError(t, err)
		require.NotZero(t, info.Mode()&os.ModeSymlink)
	}
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, entries, 1)
	loop := filepath.Join(elsewhere, "loop.stone")
	require.NoError(t, os.Symlink("loop.stone", loop))
	_, err = Open(loop, b.options)
	require.ErrorContains(t, err, "too many levels of symbolic links")
}

func TestTheFolderMustBeThere(t *testing.T) {
	b := newBench(t)
	_, err := Open(filepath.Join(filepath.Dir(b.file), "none", "x.stone"), b.options)
	require.ErrorContains(t, err, "not opened: no such file or directory")
	_, err = Open(filepath.Join(b.file, "x.stone"), b.options)
	require.Error(t, err)
}

func TestCreateReplacesOnlyWhenTold(t *testing.T) {
	b := newBench(t)
	stone := parseSample(t).Stone
	require.ErrorIs(t, Create(b.file, stone, false, b.options), ErrExists)
	require.Equal(t, sample, b.bytes())
	require.NoError(t, Create(b.file, renamed(stone, "over"), true, b.options))
	require.Contains(t, b.bytes(), `"over"`)
	fresh := filepath.Join(filepath.Dir(b.file), "fresh.stone")
	require.NoError(t, Create(fresh, stone, false, b.options))
	require.FileExists(t, fresh)
	b.open()
	require.ErrorIs(t, Create(b.file, stone, true, b.options), ErrLocked)
	require.ErrorContains(t, Create(fresh, planner.Stone{}, true, b.options), "not finished")
}
