// Package picture makes a picture of a screen of text: the cells of a terminal
// with their colours, as SVG or PNG. It knows nothing of stones.
package picture
