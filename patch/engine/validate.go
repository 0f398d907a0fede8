package engine

import "lampblack/patch"

// validate asks the patch for its faults.
func validate(p patch.Patch, k patch.Kinds) error {
	if v, ok := any(p).(interface{ Validate(patch.Kinds) error }); ok {
		return v.Validate(k)
	}
	return nil
}
