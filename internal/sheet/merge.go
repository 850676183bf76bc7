package sheet

import "slices"

// mergedRange is a block of cells that is shown as one; the value stands in its
// top left cell.
type mergedRange struct{ c1, r1, c2, r2 int }

// readMerges reads <mergeCells> and appends its ranges.
func (w *workbook) readMerges(x *xmlReader, found []mergedRange) ([]mergedRange, error) {
	for depth := x.depth(); ; {
		token, err := x.next()
		if err != nil {
			return nil, err
		}
		if token == xmlEnd && x.depth() < depth {
			return found, nil
		}
		if token != xmlStart || string(x.name) != "mergeCell" {
			continue
		}
		var m mergedRange
		var ok bool
		ref := x.attr("ref")
		if m.c1, m.r1, m.c2, m.r2, ok = parseRange(ref); !ok {
			return nil, damage("a merged range %.40q cannot be read", ref)
		}
		if len(found) >= w.limits.Merges {
			return nil, tooManyMerges(w.limits)
		}
		found = append(found, m)
	}
}

func tooManyMerges(l Limits) error {
	return overLimit(hintSplit, "the workbook has more than %s merged ranges", decimal(l.Merges))
}

// sortMerges puts ranges in the order in which rows meet them. Ranges of one
// cell say nothing and are left out.
func sortMerges(found []mergedRange, limits Limits) []mergedRange {
	found = slices.Clone(found)
	found = slices.DeleteFunc(found, func(m mergedRange) bool {
		return m.c1 > limits.Columns || m.c1 == m.c2 && m.r1 == m.r2
	})
	for i := range found {
		found[i].c2 = min(found[i].c2, limits.Columns)
	}
	slices.SortStableFunc(found, func(a, b mergedRange) int { return a.r1 - b.r1 })
	return found
}

// mergeFiller puts the values of merged ranges into the rows as they pass by.
type mergeFiller struct {
	coming []mergedRange // not yet reached
	open   []openMerge   // reached, and the row is not below them yet
	filled int
	limit  int
}

type openMerge struct {
	mergedRange
	value Cell
}

// fill completes a row's cells. A cell that holds something of its own, which
// the spreadsheet hides under the merged value, keeps it: nothing is lost.
// Where ranges overlap, which the format forbids, the one that begins higher up
// counts.
func (m *mergeFiller) fill(row int, cells []Cell) ([]Cell, error) {
	m.open = slices.DeleteFunc(m.open, func(o openMerge) bool { return o.r2 < row })
	for len(m.coming) > 0 && m.coming[0].r1 <= row {
		next := m.coming[0]
		m.coming = m.coming[1:]
		if next.r1 == row && next.c1 <= len(cells) && cells[next.c1-1].Text != "" && !m.overlaps(next) {
			value := cells[next.c1-1]
			value.Merged = true
			m.open = append(m.open, openMerge{next, value})
		}
	}
	for _, o := range m.open {
		cells = slices.Grow(cells, max(0, o.c2-len(cells)))
		for len(cells) < o.c2 {
			cells = append(cells, Cell{})
		}
		for col := o.c1; col <= o.c2; col++ {
			if row == o.r1 && col == o.c1 || cells[col-1].Type != Blank {
				continue
			}
			if m.filled++; m.filled > m.limit {
				return nil, overLimit("undo the merging of whole areas and bring it again",
					"merged ranges cover more than %s cells", decimal(m.limit))
			}
			cells[col-1] = o.value
		}
	}
	return cells, nil
}

func (m *mergeFiller) overlaps(r mergedRange) bool {
	return slices.ContainsFunc(m.open, func(o openMerge) bool { return o.c1 <= r.c2 && r.c1 <= o.c2 })
}
