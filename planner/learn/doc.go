// Package learn looks at a cutter's finished stones: what they weigh against what
// was planned, and how often the ranges given for marks held. It corrects the bands
// of later plans, and says so. What may come in: statistics of what diaries tell;
// no files, no searching.
package learn
