// Package sheet puts a plan on paper at true scale: the rough from both faces
// with its marks and cuts, templates to cut out, sections, and the steps from
// the saw to the polish. Compose lays the pages out as lines and text in
// millimetres; there is one renderer a format, each on an io.Writer. It reads
// no file.
package sheet
