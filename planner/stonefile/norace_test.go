//go:build !race

package stonefile

import "time"

// patience is the longest a file may take, in processor time.
const patience = time.Second
