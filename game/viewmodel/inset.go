package viewmodel

func (b *builder) openedInset() {}
