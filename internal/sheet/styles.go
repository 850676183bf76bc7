package sheet

import "context"

// readStyles reads which number format each cell style has (ECMA-376 part 1,
// 18.8).
func (w *workbook) readStyles(ctx context.Context, name string) error {
	own := map[int]string{}
	known := map[int]numberFormat{}
	return w.each(ctx, name, "styleSheet", func(x *xmlReader) error {
		switch string(x.name) {
		case "numFmt":
			id, ok := parseIndex(x.attr("numFmtId"))
			if !ok || len(own) >= w.limits.Styles {
				return damage("the number formats of the workbook cannot be read")
			}
			if _, again := own[id]; !again {
				own[id] = x.attrText("formatCode")
			}
		case "cellXfs":
			return w.readCellStyles(x, own, known)
		}
		return nil
	})
}

func (w *workbook) readCellStyles(x *xmlReader, own map[int]string, known map[int]numberFormat) error {
	for depth := x.depth(); ; {
		token, err := x.next()
		if err != nil {
			return err
		}
		if token == xmlEnd && x.depth() < depth {
			return nil
		}
		if token != xmlStart || string(x.name) != "xf" {
			continue
		}
		if len(w.formats) >= w.limits.Styles {
			return overLimit(hintSaveAgain, "the workbook has more than %s cell styles", decimal(w.limits.Styles))
		}
		id := 0
		if v := x.attr("numFmtId"); v != nil {
			var ok bool
			if id, ok = parseIndex(v); !ok {
				return damage("the cell styles of the workbook cannot be read")
			}
		}
		format, ok := known[id]
		if !ok {
			code, isOwn := own[id]
			if !isOwn {
				code = builtInFormat(id)
			}
			format = readFormat(id, code, isOwn)
			known[id] = format
		}
		w.formats = append(w.formats, format)
	}
}
