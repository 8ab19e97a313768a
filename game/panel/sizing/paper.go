//go:build js

package sizing

import (
	"strconv"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/sizing"
)

// fillPrint shows the worksheet, or the key to it, as it comes on paper.
func (p *page) fillPrint() {
	pick := dom.El("div", dom.Attrs{"class": "pushes", "role": "group", "aria-label": say.Text("sizing.paper")})
	for _, id := range []string{"sheet", "key"} {
		b := dom.Button(say.Text("sizing.paper."+id), dom.Attrs{"data-paper": id})
		b.Press(p.key == (id == "key"))
		pick.Add(b)
	}
	paper := dom.El("article", dom.Attrs{"id": "paper", "aria-label": say.Text("sizing.paper." + map[bool]string{true: "key", false: "sheet"}[p.key])})
	dom.ByID("print").Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.paper-note")), pick, dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("sizing.print"), dom.Attrs{"class": "main", "data-desk": "print"})), paper)
	if p.key {
		p.fillKey(paper)
	} else {
		p.fillPaper(paper)
	}
}

func (p *page) paperHead(title string) []dom.Node {
	lines := []string{say.Text("sizing.customer"), say.Sim(p.Job.Customer)}
	for _, l := range p.Job.Lines[p.system()] {
		lines = append(lines, say.Sim(l.Label), say.Amounts(l.Text))
	}
	name := say.Sim(p.Job.Title)
	if p.Source == sizing.Drawn {
		name += " (" + say.Text("sizing.seed-is", strconv.FormatUint(p.Seed, 10)) + ")"
	}
	return []dom.Node{dom.El("h2", nil, title+": "+name), dom.Pairs(lines...)}
}

// fillPaper is the worksheet: the job, blanks in the order of the work, and the tables.
func (p *page) fillPaper(paper dom.Node) {
	paper.Add(blanks("sizing.paper.name", "sizing.paper.class", "sizing.paper.date"), p.paperHead(say.Text("sizing.paper.sheet")), dom.El("h3", nil, say.Text("sizing.paper.figures")))
	l := dom.El("ol", dom.Attrs{"class": "blanks"})
	for _, s := range sizing.Steps(&p.Job, p.Solution(), p.look.SI) {
		l.Add(dom.El("li", nil, dom.El("span", dom.Attrs{"class": "name"}, s.Name, dom.El("small", nil, s.Formula)), dom.El("span", dom.Attrs{"class": "blank"}), dom.El("span", dom.Attrs{"class": "unit"}, s.Unit)))
	}
	tables := dom.El("div", dom.Attrs{"class": "tables"})
	paper.Add(l, blanks("sizing.tank", "sizing.program"), dom.El("h3", nil, say.Text("sizing.tables")), tables, p.aid())
	p.fillTables(tables, printed)
}

func blanks(ids ...string) dom.Node {
	l := dom.El("dl", dom.Attrs{"class": "to-fill"})
	for _, id := range ids {
		l.Add(dom.El("div", nil, dom.El("dt", nil, say.Text(id)), dom.El("dd", nil)))
	}
	return l
}

// fillKey is the key: the job again and the worked solution.
func (p *page) fillKey(paper dom.Node) {
	sol := p.Solution()
	paper.Add(p.paperHead(say.Text("sizing.paper.key")), dom.El("h3", nil, say.Text("sizing.worked")), p.unitLine(sol), p.stepList(sol), dom.El("h3", nil, say.Text("sizing.see-to")), p.warnings(sol), p.aid())
}

func (p *page) aid() dom.Node { return dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.aid")) }
