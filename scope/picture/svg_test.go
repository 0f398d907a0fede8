package picture

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func tone(n int, amplitude, hz float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = amplitude * math.Sin(2*math.Pi*hz*float64(i)/48000)
	}
	return s
}

func mono(samples []float64) Sound { return Sound{Channels: [][]float64{samples}, Rate: 48000} }

// svgFile is what stands in an SVG picture: y grows upwards, in points.
type svgFile struct {
	paths  []svgPath
	texts  []string
	images []svgImage
	bytes  []byte
}

type svgPath struct {
	style  string
	points [][2]float64
}

type svgImage struct {
	x, y, width, height float64
	image               image.Image
}

var pair = regexp.MustCompile(`([-0-9.e+]+),([-0-9.e+]+)`)

func asSVG(t testing.TB, draw func(io.Writer, Options) error, o Options) svgFile {
	t.Helper()
	var file bytes.Buffer
	o.Format = SVG
	if err := draw(&file, o); err != nil {
		t.Fatal(err)
	}
	s := svgFile{bytes: bytes.Clone(file.Bytes())}
	inText := false
	for d := xml.NewDecoder(&file); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return s
		} else if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			inText = e.Name.Local == "text"
			switch e.Name.Local {
			case "path":
				s.paths = append(s.paths, svgPath{at["style"], points(at["d"])})
			case "image":
				s.images = append(s.images, newSVGImage(t, at))
			}
		case xml.CharData:
			if inText {
				s.texts = append(s.texts, string(e))
			}
		case xml.EndElement:
			inText = false
		}
	}
}

func points(d string) (all [][2]float64) {
	for _, m := range pair.FindAllStringSubmatch(d, -1) {
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		all = append(all, [2]float64{x, y})
	}
	return all
}

func newSVGImage(t testing.TB, at map[string]string) svgImage {
	number := func(key string) float64 {
		v, err := strconv.ParseFloat(at[key], 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	if at["preserveAspectRatio"] != "none" {
		t.Error("an image does not fill its field")
	}
	_, data, _ := strings.Cut(at["href"], "base64,")
	file, err := base64.StdEncoding.DecodeString(data)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return svgImage{number("x"), -number("y") - number("height"), number("width"), number("height"), img}
}

// trace returns the longest path that is stroked or filled in a colour.
func (s svgFile) trace(t testing.TB, c color.NRGBA) [][2]float64 {
	t.Helper()
	hex := strings.ToUpper(strconv.FormatUint(uint64(c.R)<<16|uint64(c.G)<<8|uint64(c.B)|1<<24, 16))[1:]
	var longest [][2]float64
	for _, p := range s.paths {
		if strings.Contains(p.style, "#"+hex) && len(p.points) > len(longest) {
			longest = p.points
		}
	}
	if longest == nil {
		t.Fatalf("nothing is drawn in #%s", hex)
	}
	return longest
}

func highest(points [][2]float64) (at [2]float64) {
	at[1] = math.Inf(-1)
	for _, p := range points {
		if p[1] > at[1] {
			at = p
		}
	}
	return at
}

func (s svgFile) says(words string) bool {
	for _, text := range s.texts {
		if strings.Contains(text, words) {
			return true
		}
	}
	return false
}

func spectrumOf(samples []float64) func(io.Writer, Options) error {
	return func(w io.Writer, o Options) error { return Spectrum(w, mono(samples), o) }
}
