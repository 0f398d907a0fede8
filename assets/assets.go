// Package assets embeds the files that travel inside the program: fonts, the
// demo job, example patches, lessons, the schemas of these files and the icon.
//
// It knows no format: what a file means is said by the package that reads it.
package assets

import (
	"embed"
	"io/fs"
	"path"
	"strings"
)

// Files holds what the program needs ("patches/bell.json", "demo/job.json",
// ...), all below assets but the pictures of the README. It is read-only and
// safe for everybody.
//
//go:embed demo fonts icon lessons/*.json patches schema
var Files embed.FS

// Patches returns the names of the example patches ("bell", "brass", ...), in
// alphabetical order.
func Patches() []string { return names("patches") }

// Patch returns the file of an example patch, by the name that Patches gives.
func Patch(name string) ([]byte, error) { return Files.ReadFile("patches/" + name + ".json") }

// Lessons returns the names of the lessons ("01-tremolo", ...), in their order.
func Lessons() []string { return names("lessons") }

// Lesson returns the file of a lesson, by the name that Lessons gives.
func Lesson(name string) ([]byte, error) { return Files.ReadFile("lessons/" + name + ".json") }

// Demo returns the folder of the demo job.
func Demo() fs.FS {
	demo, err := fs.Sub(Files, "demo")
	if err != nil {
		panic("assets: " + err.Error()) // only for a path that is not valid
	}
	return demo
}

// names returns the JSON files of a folder without their ending.
func names(folder string) []string {
	files, _ := fs.Glob(Files, path.Join(folder, "*.json")) // the pattern is valid
	for i, f := range files {
		files[i] = strings.TrimSuffix(path.Base(f), ".json")
	}
	return files
}
