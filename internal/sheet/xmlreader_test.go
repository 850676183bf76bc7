package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

// events writes what a document holds, one line an event, text joined.
func events(r io.Reader) (string, error) {
	x := newXMLReader(r)
	var out, text strings.Builder
	flush := func() {
		if text.Len() > 0 {
			fmt.Fprintf(&out, "text %q\n", text.String())
			text.Reset()
		}
	}
	for {
		token, err := x.next()
		if err != nil {
			return out.String(), err
		}
		switch token {
		case xmlText:
			text.Write(x.text)
		case xmlStart:
			flush()
			fmt.Fprintf(&out, "start %s", x.name)
			for _, a := range x.attrs {
				fmt.Fprintf(&out, " %s=%q", localName(a.name), x.attrText(string(a.name)))
			}
			out.WriteByte('\n')
		case xmlEnd:
			flush()
			fmt.Fprintf(&out, "end %s\n", x.name)
		case xmlDone:
			return out.String(), nil
		}
	}
}

// standardEvents is the same by the standard library.
func standardEvents(r io.Reader) (string, error) {
	d := xml.NewDecoder(r)
	var out, text strings.Builder
	flush := func() {
		if text.Len() > 0 {
			fmt.Fprintf(&out, "text %q\n", text.String())
			text.Reset()
		}
	}
	for depth := 0; ; {
		token, err := d.Token()
		if err == io.EOF {
			return out.String(), nil
		}
		if err != nil {
			return out.String(), err
		}
		switch t := token.(type) {
		case xml.CharData:
			if depth > 0 {
				text.Write(t)
			}
		case xml.StartElement:
			flush()
			depth++
			fmt.Fprintf(&out, "start %s", t.Name.Local)
			for _, a := range t.Attr {
				fmt.Fprintf(&out, " %s=%q", a.Name.Local, a.Value)
			}
			out.WriteByte('\n')
		case xml.EndElement:
			flush()
			depth--
			fmt.Fprintf(&out, "end %s\n", t.Name.Local)
		}
	}
}

// goodXML is read the same by both readers.
var goodXML = []string{
	`<a/>`,
	`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\r\n" + `<a b="1" c='2'>x<d/>y</a>` + "\n",
	"\xEF\xBB\xBF<a>\xEF\xBB\xBFx</a>",
	`<x:a xmlns:x="urn:q"><x:b x:c="1&amp;2"> &lt;&#65;&#x42;&gt; </x:b></x:a>`,
	"<a>one\r\ntwo\rthree\n&#13;four</a>",
	`<a><!-- a comment with <b> --><![CDATA[<not> & a tag]]>after</a>`,
	`<a b="x > y" c='"'></a >`,
	`<a>９８７６０－５００９０ Kühler 発電機 😀</a>`,
	`<a b = "1"
	   c="2"/>`,
	`<a>] ]] ]&gt;</a>`,
}

// badXML must be refused: in a sheet each could hide that rows are missing.
var badXML = map[string]string{
	"nothing":               ``,
	"white space only":      "  \n",
	"cut in a tag":          `<a><b c="1`,
	"cut in an element":     `<a><b>text`,
	"cut before root's end": `<a><b>text</b>`,
	"wrong end":             `<a><b></a></b>`,
	"end without start":     `</a>`,
	"second root":           `<a/><b/>`,
	"text after the root":   `<a/>x`,
	"text before the root":  `x<a/>`,
	"unknown entity":        `<a>&nbsp;</a>`,
	"open entity":           `<a>&amp</a>`,
	"entity of zero":        `<a>&#0;</a>`,
	"no UTF-8":              "<a>\xFF</a>",
	"no UTF-8 in a tag":     "<a b=\"\xFF\"/>",
	"control character":     "<a>\x01</a>",
	"less-than in a value":  `<a b="<"/>`,
	"attribute twice":       `<a b="1" b="2"/>`,
	"attribute not quoted":  `<a b=1/>`,
	"attribute bare":        `<a b/>`,
	"attributes not apart":  `<a b="1"c="2"/>`,
	"document type":         `<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>`,
	"double hyphen":         `<a><!-- x -- y --></a>`,
	"section end in text":   `<a>]]></a>`,
	"unknown encoding":      `<?xml version="1.0" encoding="koi8-r"?><a/>`,
	"unknown version":       `<?xml version="1.1"?><a/>`,
	"declaration inside":    `<a><?xml version="1.0"?></a>`,
	"too deep":              strings.Repeat("<a>", 70) + strings.Repeat("</a>", 70),
	"name with a digit":     `<1/>`,
	"empty name":            `<></>`,
}

func TestXMLReaderAgreesWithStandardLibrary(t *testing.T) {
	for _, doc := range goodXML {
		want, err := standardEvents(strings.NewReader(doc))
		if err != nil {
			t.Fatalf("%q: the standard library refuses it: %v", doc, err)
		}
		for name, r := range map[string]io.Reader{
			"whole":        strings.NewReader(doc),
			"byte by byte": iotest.OneByteReader(strings.NewReader(doc)),
		} {
			got, err := events(r)
			if err != nil || got != want {
				t.Errorf("%q %s: got %q, %v; want %q", doc, name, got, err, want)
			}
		}
	}
}

func TestXMLReaderRefusesWhatIsNotWellFormed(t *testing.T) {
	for name, doc := range badXML {
		if got, err := events(strings.NewReader(doc)); err == nil {
			t.Errorf("%s: got %q, want an error", name, got)
		}
	}
}

// Long text comes in pieces; no piece may cut a character, an entity or a line
// end in two.
func TestXMLReaderJoinsPieces(t *testing.T) {
	for _, piece := range []string{"ß", "&#x20AC;", "\r\n", "]", "&amp;", "😀", "]]&gt;"} {
		for shift := range 20 {
			doc := "<a>" + strings.Repeat("x", shift) + strings.Repeat(piece, 30_000) + "</a>"
			want, err := standardEvents(strings.NewReader(doc))
			if err != nil {
				t.Fatal(err)
			}
			if got, err := events(strings.NewReader(doc)); err != nil || got != want {
				t.Fatalf("%q x 30000 after %d: differs from the standard library, error %v", piece, shift, err)
			}
		}
	}
}

func TestXMLReaderLeaps(t *testing.T) {
	rows := strings.Repeat(`<row><c><v>1</v></c></row>`, 20_000)
	for name, body := range map[string]string{
		"rows":        `<x:data>` + rows + `</x:data>`,
		"self-closed": `<x:data/>`,
		"empty":       `<x:data></x:data>`,
	} {
		x := newXMLReader(strings.NewReader(`<x:a>` + body + `<x:tail n="5"/></x:a>`))
		for string(x.name) != "data" {
			if _, err := x.next(); err != nil {
				t.Fatal(err)
			}
		}
		if err := x.leap(2); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		token, err := x.next()
		if token != xmlEnd || string(x.name) != "data" || err != nil {
			t.Errorf("%s: after the leap got %v %s %v, want the end of data", name, token, x.name, err)
		}
		if token, err = x.next(); token != xmlStart || string(x.attr("n")) != "5" || err != nil {
			t.Errorf("%s: got %v %v, want the element behind", name, token, err)
		}
	}
	x := newXMLReader(strings.NewReader(`<a><data>` + rows))
	for range 4 {
		if _, err := x.next(); err != nil {
			t.Fatal(err)
		}
	}
	if err := x.leap(2); err == nil {
		t.Error("a leap over the end gave no error")
	}
}

// FuzzXMLReader: what our reader takes, the standard decoder takes too, with the
// same events.
func FuzzXMLReader(f *testing.F) {
	for _, doc := range goodXML {
		f.Add([]byte(doc))
	}
	for _, doc := range badXML {
		f.Add([]byte(doc))
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		got, err := events(bytes.NewReader(doc))
		if err != nil {
			return
		}
		want, err := standardEvents(bytes.NewReader(doc))
		if err != nil {
			t.Fatalf("taken, but the standard library says: %v", err)
		}
		if got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
	})
}

// A tag may be long, but not endless; neither may a reader that gives nothing.
func TestXMLReaderBoundsTags(t *testing.T) {
	long := `<a b="` + strings.Repeat("x", 300_000) + `"/>`
	if got, err := events(strings.NewReader(long)); err != nil || len(got) < 300_000 {
		t.Errorf("a long tag: got %d bytes, %v", len(got), err)
	}
	for name, doc := range map[string]string{
		"endless tag":     `<a b="` + strings.Repeat("x", 2<<20),
		"endless comment": `<a><!--` + strings.Repeat("x", 2<<20),
		"many attributes": `<a` + func() (s string) {
			for i := range 300 {
				s += fmt.Sprintf(` a%d=""`, i)
			}
			return s
		}() + `/>`,
		"entity in a value":  `<a b="&nbsp;"/>`,
		"comment cut":        `<a><!-- x --`,
		"section outside":    `<![CDATA[x]]><a/>`,
		"section cut":        `<a><![CDATA[x]]`,
		"section of noise":   "<a><![CDATA[\x01]]></a>",
		"bare declaration":   `<?xml version=1.0?><a/>`,
		"entity too large":   `<a>&#x110000;</a>`,
		"entity not hex":     `<a>&#xZ;</a>`,
		"entity not a digit": `<a>&#1A;</a>`,
		"entity of nothing":  `<a>&#;</a>`,
	} {
		if _, err := events(strings.NewReader(doc)); err == nil {
			t.Errorf("%s: got no error", name)
		}
	}
	if _, err := events(noReader{}); err != io.ErrNoProgress {
		t.Errorf("got %v, want %v", err, io.ErrNoProgress)
	}
	s := newSplitter(noReader{}, dialect{delimiter: ',', lineEnd: '\n'}, DefaultLimits())
	if err := s.next(); err != io.ErrNoProgress {
		t.Errorf("got %v, want %v", err, io.ErrNoProgress)
	}
}

// noReader never gives a byte and never ends.
type noReader struct{}

func (noReader) Read([]byte) (int, error) { return 0, nil }
