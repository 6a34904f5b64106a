package planjson

// Member is a part of a plan that follows those every plan has.
type Member struct {
	name   string
	items  []any // a list, a line for each item
	object any   // or one object
}

// member writes a member after what is there.
func (b *builder) member(m Member) {
	if m.object == nil {
		b.list(m.name, m.items)
		return
	}
	b.raw(",\n  \"" + m.name + "\": ")
	b.value(m.object)
}
