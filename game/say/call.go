package say

import "brinebench/sim/strict"

// Call is what the customer of a call tells, in one language.
type Call struct {
	Title, Customer, Complaint, House string
	Notes                             []string
}

// ReadCall reads the file that has a call in another language. The error joins
// every fault, each with the file's name and the field.
func ReadCall(name string, data []byte) (Call, error) {
	var c Call
	w := &strict.Walk{}
	notes := func(at string, raw []byte) { w.Value(at, raw, &c.Notes) }
	w.Members("", data, []strict.Field{
		w.Text("title", &c.Title), w.Text("customer", &c.Customer), w.Text("complaint", &c.Complaint), w.Text("house", &c.House),
		{Key: "notes", Optional: true, Read: notes},
	})
	return c, w.Err(name)
}
