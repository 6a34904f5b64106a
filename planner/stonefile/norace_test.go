//go:build !race

package stonefile

import "time"

// patience is the longest a file may take.
const patience = time.Second
