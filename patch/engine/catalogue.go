package engine

import "lampblack/patch/kind"

// defaultKinds are what Compile uses if Settings.Kinds is nil.
var defaultKinds Catalogue = kind.Catalogue
