package sheet

import (
	"context"
	"errors"
	"io"
	"path"
	"strings"
)

// workbook is an opened .xlsx file: what stands around its rows.
type workbook struct {
	zip       *archive
	limits    Limits
	sheets    []*worksheet
	date1904  bool
	formats   []numberFormat // by style number
	textsPart string         // name of the part with the shared texts, or ""
	texts     *sharedTexts   // read when rows are first asked for
	merges    int            // merged ranges so far, in all sheets
}

// worksheet is one sheet of a workbook.
type worksheet struct {
	name       string
	part       string
	hidden     bool
	hiddenCols []int
	merges     []mergedRange // by first row
	blank      bool          // no cell holds anything
}

// openWorkbook reads all but the rows, and proves that every sheet can be
// unpacked to its end.
func openWorkbook(ctx context.Context, r io.ReaderAt, size int64, limits Limits) (*workbook, error) {
	zip, err := openArchive(r, size, limits)
	if err != nil {
		return nil, err
	}
	w := &workbook{zip: zip, limits: limits}
	main, err := w.mainPart(ctx)
	if err != nil {
		return nil, err
	}
	if err := w.readMain(ctx, main); err != nil {
		return nil, err
	}
	blank := true
	for _, s := range w.sheets {
		if err := w.survey(ctx, s); err != nil {
			return nil, w.placed(err, s.part, s)
		}
		blank = blank && s.blank
	}
	if blank {
		return nil, refusal(Empty, "save the list into it and bring it again", "the workbook is empty, no cell of it holds anything")
	}
	return w, nil
}

// placed makes an error of the XML reader one for a person, and names the sheet.
func (w *workbook) placed(err error, part string, s *worksheet) error {
	var x *xmlError
	if errors.As(err, &x) {
		e := damage("the inner file %.60q is cut short or damaged: %v", part, x)
		e.Err = err
		err = e
	}
	var u *UnreadableError
	if s != nil && errors.As(err, &u) {
		u.in(s.name)
	}
	return err
}

// each opens a part, whose root element must have the given name unless that is
// "", and calls visit at every start tag, which may read on up to the element's
// end. The part is read to its end.
func (w *workbook) each(ctx context.Context, name, root string, visit func(*xmlReader) error) error {
	p, err := w.zip.open(ctx, name, w.limits.SmallBytes)
	if err != nil {
		return err
	}
	defer p.Close()
	x := newXMLReader(p)
	for {
		token, err := x.next()
		if err != nil {
			return w.placed(err, name, nil)
		}
		if token == xmlDone {
			return nil
		}
		if token != xmlStart {
			continue
		}
		if x.depth() == 1 && root != "" && string(x.name) != root {
			return damage("the inner file %.60q begins with <%s> where <%s> is awaited", name, x.name, root)
		}
		if err := visit(x); err != nil {
			return w.placed(err, name, nil)
		}
	}
}

// relation is one line of a relationships part (ECMA-376 part 2, 6.5.3).
type relation struct{ id, kind, target string }

// relations reads the relationships of a part; none where it has none. The part
// "" is the package itself.
func (w *workbook) relations(ctx context.Context, of string) ([]relation, error) {
	name := path.Join(path.Dir(of), "_rels", path.Base(of)+".rels")
	if of == "" {
		name = "_rels/.rels"
	}
	if !w.zip.has(name) {
		return nil, nil
	}
	var found []relation
	err := w.each(ctx, name, "Relationships", func(x *xmlReader) error {
		if string(x.name) != "Relationship" || string(x.attr("TargetMode")) == "External" {
			return nil
		}
		kind := x.attrText("Type")
		target := x.attrText("Target")
		if !strings.HasPrefix(target, "/") && of != "" {
			target = path.Join(path.Dir(of), target)
		}
		found = append(found, relation{x.attrText("Id"), kind[strings.LastIndexByte(kind, '/')+1:], strings.TrimPrefix(target, "/")})
		return nil
	})
	return found, err
}

// mainPart finds the part that lists the sheets, or says what else the zip file is.
func (w *workbook) mainPart(ctx context.Context) (string, error) {
	relations, err := w.relations(ctx, "")
	if err != nil {
		return "", err
	}
	main := "xl/workbook.xml"
	for _, r := range relations {
		if r.kind == "officeDocument" {
			main = r.target
		}
	}
	hint := "bring a workbook saved as .xlsx, or a .csv file"
	switch {
	case strings.HasSuffix(partKey(main), ".bin"):
		return "", refusal(NotASpreadsheet, hintSaveAgain, "it is a binary workbook (.xlsb)")
	case w.zip.has("mimetype") && w.zip.has("content.xml"):
		return "", refusal(NotASpreadsheet, hintSaveAgain, "it is an OpenDocument file, not an .xlsx workbook")
	case w.zip.has(main):
		return main, nil
	}
	return "", refusal(NotASpreadsheet, hint, "it is a zip archive that holds no workbook")
}

// readMain reads the list of sheets and what belongs to the whole workbook.
func (w *workbook) readMain(ctx context.Context, main string) error {
	relations, err := w.relations(ctx, main)
	if err != nil {
		return err
	}
	byID := map[string]relation{}
	styles := ""
	for _, r := range relations {
		byID[r.id] = r
		switch r.kind {
		case "styles":
			styles = r.target
		case "sharedStrings":
			w.textsPart = r.target
		}
	}
	err = w.each(ctx, main, "", func(x *xmlReader) error {
		switch name := string(x.name); {
		case x.depth() == 1 && name != "workbook":
			return refusal(NotASpreadsheet, hintSaveAgain, "it is an office file of another kind, not a workbook")
		case name == "workbookPr":
			w.date1904 = x.attrTrue("date1904")
		case name == "sheet":
			return w.addSheet(x, byID)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if styles != "" && w.zip.has(styles) {
		return w.readStyles(ctx, styles)
	}
	return nil
}

// addSheet takes one <sheet> of the list. Sheets of charts have no rows and are
// left out.
func (w *workbook) addSheet(x *xmlReader, byID map[string]relation) error {
	if x.depth() != 3 {
		return nil
	}
	s := &worksheet{name: x.attrText("name")}
	state := string(x.attr("state"))
	s.hidden = state == "hidden" || state == "veryHidden"
	var r relation
	for _, a := range x.attrs {
		if string(localName(a.name)) == "id" && len(a.name) > len("id") {
			r = byID[string(a.value)]
		}
	}
	if r.kind != "" && r.kind != "worksheet" {
		return nil
	}
	if s.part = r.target; s.part == "" || !w.zip.has(s.part) {
		return damage("the sheet is listed but not in the file").in(s.name)
	}
	if len(w.sheets) >= w.limits.Sheets {
		return overLimit(hintSplit, "the workbook has more than %s sheets", decimal(w.limits.Sheets))
	}
	for _, other := range w.sheets {
		if strings.EqualFold(other.name, s.name) || partKey(other.part) == partKey(s.part) {
			return damage("the sheet is listed twice").in(s.name)
		}
	}
	w.sheets = append(w.sheets, s)
	return nil
}

// sheet finds a sheet by its name.
func (w *workbook) sheet(name string) *worksheet {
	for _, s := range w.sheets {
		if s.name == name {
			return s
		}
	}
	return nil
}
