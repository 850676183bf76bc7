package app

import "context"

// Lists gives every list of the book with its current version.
func (s *Service) Lists(ctx context.Context) (lists []List, err error) {
	err = s.Book.Read(ctx, func(r Reader) error {
		lists, err = r.Lists(ctx)
		return err
	})
	return lists, err
}

// Imports gives every import, newest first.
func (s *Service) Imports(ctx context.Context) (batches []Batch, err error) {
	err = s.Book.Read(ctx, func(r Reader) error {
		batches, err = r.Batches(ctx)
		return err
	})
	return batches, err
}

// Undo takes an import back by its batch id.
func (s *Service) Undo(ctx context.Context, batch string, by Actor) (UndoReport, error) {
	return s.Book.Undo(ctx, batch, by)
}
