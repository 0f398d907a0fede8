package demo

import (
	"encoding/json"
	"fmt"

	"lampblack/assets"
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// script is the file job.json.
type script struct {
	Note       string `json:"note"`
	Recordings []struct {
		Name    string        `json:"name"`
		Patch   string        `json:"patch"`
		Memory  memory.Memory `json:"memory"`
		Seconds float64       `json:"seconds"`
	} `json:"recordings"`
	Cues []cue `json:"cues"`
}

type cue struct {
	Number   string `json:"number"`
	Name     string `json:"name"`
	Timecode string `json:"timecode"`
	Note     string `json:"note"`
	Takes    []take `json:"takes"`
}

type take struct {
	Patch   string        `json:"patch"`
	From    int           `json:"from"` // number of an earlier take of the cue, or 0
	Memory  memory.Memory `json:"memory"`
	Seconds float64       `json:"seconds"`
	Note    string        `json:"note"`
	Tags    []string      `json:"tags"`
	Star    bool          `json:"star"`
}

// read reads a JSON file of the demo.
func read(name string, into any) error {
	file, err := assets.Files.ReadFile("demo/" + name + ".json")
	if err == nil {
		err = json.Unmarshal(file, into)
	}
	if err != nil {
		return fmt.Errorf("demo file %q: %w", name, err)
	}
	return nil
}

func readPatch(name string) (patch.Patch, error) {
	file, err := assets.Files.ReadFile("demo/" + name + ".json")
	if err != nil {
		return patch.Patch{}, err
	}
	p, err := patch.Load(file, kind.Catalogue)
	if err != nil {
		return p, fmt.Errorf("demo patch %q: %w", name, err)
	}
	return p, nil
}
