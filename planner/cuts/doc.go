// Package cuts takes one rough to pieces: saw cuts and the pieces they leave,
// trims round a chosen fit, several stones from one rough, the order to saw
// in, the marks to scribe, and what is to be done after the saw. It touches no
// file and draws nothing; planjson prints what it finds and sheet puts it on
// paper. All lengths are millimetres, all volumes mm3.
//
// A piece is named by the sides taken: "" is the whole rough, and a cut on the
// piece P makes P+, where its normal points to, and P-.
package cuts
