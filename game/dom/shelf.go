//go:build js

package dom

import "syscall/js"

// Shelf keeps texts by name in IndexedDB, which outlives the page and has room for more
// than its storage. None of its methods may be called in an event's own turn.
type Shelf struct{ db js.Value }

const shelfStore = "texts"

// OpenShelf opens the shelf of that name. A private window may refuse it.
func OpenShelf(name string) (s *Shelf, err error) {
	factory := js.Global().Get("Reflect").Call("get", js.Global(), "indexedDB")
	if !factory.Truthy() {
		return nil, ErrRefused
	}
	defer func() {
		if recover() != nil { // what a closed storage throws
			s, err = nil, ErrRefused
		}
	}()
	request := factory.Call("open", name, 1)
	first := js.FuncOf(func(js.Value, []js.Value) any {
		request.Get("result").Call("createObjectStore", shelfStore)
		return nil
	})
	defer first.Release()
	request.Set("onupgradeneeded", first)
	if err := kept(request, "onsuccess", "onerror"); err != nil {
		return nil, err
	}
	return &Shelf{request.Get("result")}, nil
}

// kept waits for one of two events of a request or transaction.
func kept(request js.Value, good, bad string) error {
	_, err := ended(func(yes, no js.Func) {
		request.Set(good, yes)
		request.Set(bad, no)
	})
	request.Set(good, nil)
	request.Set(bad, nil)
	return err
}

// Put keeps texts under their names: all of them or none.
func (s *Shelf) Put(texts map[string]string) error {
	return s.write(func(store js.Value) {
		for name, text := range texts {
			store.Call("put", text, name)
		}
	})
}

// Replace puts texts in the place of all whose name begins so.
func (s *Shelf) Replace(prefix string, texts map[string]string) error {
	return s.write(func(store js.Value) {
		store.Call("delete", within(prefix))
		for name, text := range texts {
			store.Call("put", text, name)
		}
	})
}

func (s *Shelf) write(f func(store js.Value)) error {
	t := s.db.Call("transaction", shelfStore, "readwrite")
	f(t.Call("objectStore", shelfStore))
	return kept(t, "oncomplete", "onabort")
}

// All returns the texts whose name begins so, in the order of their names.
func (s *Shelf) All(prefix string) (texts []string, err error) {
	request := s.db.Call("transaction", shelfStore).Call("objectStore", shelfStore).Call("getAll", within(prefix))
	if err := kept(request, "onsuccess", "onerror"); err != nil {
		return nil, err
	}
	list := request.Get("result")
	for i := range list.Length() {
		texts = append(texts, list.Index(i).String())
	}
	return texts, nil
}

func within(prefix string) js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", prefix, prefix+"\uffff")
}
