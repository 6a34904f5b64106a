//go:build race

package stonefile

import "time"

// patience is the longest a file may take, in processor time. The race detector slows a program 2
// to 20 times (its manual, https://go.dev/doc/articles/race_detector).
const patience = 20 * time.Second
