// Package folder reads the stones of one folder together: what the finished ones
// teach, and which belong to one lot. What may come in: reading through stonefile,
// and gathering; what follows from it is worked out in learn and worth.
package folder
