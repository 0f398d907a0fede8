package notebook

import (
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// readPatch reads the written form of a patch, with the words of its settings
// understood as the catalogue has them. Whether it can sound is the engine's question.
func readPatch(file []byte) (patch.Patch, error) {
	p, err := patch.Read(file)
	if err != nil {
		return p, err
	}
	return patch.Resolve(p, kind.Catalogue), nil
}

// writeMemory returns the written form of a memory that readMemory will accept.
func writeMemory(m memory.Memory) ([]byte, error) {
	if err := m.Validate(); err != nil {
		return nil, err
	}
	return m.JSON()
}

func readMemory(file []byte) (m memory.Memory, err error) {
	if err := m.UnmarshalJSON(file); err != nil {
		return m, err
	}
	return m, m.Validate()
}
