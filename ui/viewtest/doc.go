// Package viewtest sets a view up with a stone, without the workbench around it, and
// does what keys would. Only tests import it. What may come in: what the tests of
// several views share; fits and frames that one view's tests expect stay there.
package viewtest
