package notebook_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"lampblack/notebook"
	"lampblack/patch"
)

func Example() {
	folder, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	book, err := notebook.Open(filepath.Join(folder, "glasshouse"+notebook.Extension), notebook.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer book.Close()

	job, _ := book.AddJob(notebook.Job{Name: "The Glasshouse"})
	cue, _ := book.AddCue(notebook.Cue{Job: job.ID, Number: "1M4", Name: "Moths at the lamp"})
	take, err := book.Keep(context.Background(), notebook.NewTake{
		Cue: cue.ID,
		Patch: patch.Patch{
			Modules: []patch.Module{{Name: "dust", Kind: "noise"}, {Name: "out", Kind: "output"}},
			Cords:   []patch.Cord{{From: patch.Socket{Module: "dust", Name: "out"}, To: patch.Socket{Module: "out", Name: "left"}}},
		},
		Note:    "Too dry; narrow the band.",
		Seconds: 0.5,
	}, nil)
	fmt.Println("kept as take", take.Number, err)

	hits, err := book.Search("narrow")
	fmt.Println(hits[0].Job.Name, hits[0].Cue.Number, hits[0].Snippet, err)

	proof, err := book.Prove(context.Background(), take.ID, nil)
	fmt.Println(proof.Identical, err)
	// Output:
	// kept as take 1 <nil>
	// The Glasshouse 1M4 Too dry; narrow the band. <nil>
	// true <nil>
}
