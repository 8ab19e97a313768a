package e2e

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// classroom is the program as an instructor starts it, with a file of its own.
type classroom struct {
	t       *testing.T
	file    string
	address string // host:port
	setup   string // code for the first password
	process *exec.Cmd
}

const classPassword = "weir and sluice"

func newClassroom(t *testing.T) *classroom {
	t.Helper()
	site(t) // is built, or the test is skipped
	c := &classroom{t: t, file: filepath.Join(t.TempDir(), "class.db"), address: "localhost:0"}
	c.start()
	t.Cleanup(c.kill)
	return c
}

// start starts the program and waits until it listens.
func (c *classroom) start() {
	c.t.Helper()
	c.process = exec.Command(filepath.Join(root, "build/brinebench"), "serve", "-dir", filepath.Join(root, "build/site"), "-addr", c.address, "-data", c.file)
	out, err := c.process.StdoutPipe()
	require.NoError(c.t, err)
	var log bytes.Buffer
	c.process.Stderr = &log
	require.NoError(c.t, c.process.Start())
	lines := bufio.NewScanner(out)
	require.True(c.t, lines.Scan(), log.String())
	c.address = regexp.MustCompile(`localhost:\d+`).FindString(lines.Text())
	require.NotEmpty(c.t, c.address, lines.Text())
	if c.setup == "" {
		require.True(c.t, lines.Scan(), log.String())
		c.setup = lines.Text()[strings.LastIndexByte(lines.Text(), ' ')+1:]
	}
	go func() {
		for lines.Scan() { // nobody reads the rest
		}
	}()
}

// kill is kill -9: nothing is brought to an end.
func (c *classroom) kill() {
	c.process.Process.Kill()
	c.process.Wait()
}

func (c *classroom) open(page string, s size) *tab {
	c.t.Helper()
	b := openURL(c.t, "http://"+c.address+"/"+page, s)
	b.waitDesk()
	b.run("questions answered with yes", chromedp.Evaluate("window.confirm = () => true", nil))
	return b
}

// instructor sets the password, and has the list of classes before them.
func (c *classroom) instructor(s size) *tab {
	c.t.Helper()
	b := c.open("class.html", s)
	b.send("first", "setup", c.setup, "password", classPassword)
	b.wait("the list of classes", "document.querySelector('form[data-form=make]')")
	return b
}

// send fills a form's fields in, by name, and sends it.
func (b *tab) send(form string, values ...string) {
	b.t.Helper()
	at := fmt.Sprintf("form[data-form=%q] ", form)
	for i := 0; i < len(values); i += 2 {
		field := fmt.Sprintf("%s[name=%q]", at, values[i])
		if eval[string](b, fmt.Sprintf("document.querySelector(%q).tagName", field)) == "SELECT" {
			b.pick(field, values[i+1])
			continue
		}
		b.press(field)
		if values[i+1] == "yes" {
			continue // a box to tick
		}
		b.run("clearing", chromedp.Evaluate(fmt.Sprintf("document.querySelector(%q).select()", field), nil))
		b.keys(values[i+1])
	}
	b.press(at + "button.main")
}

// joins has a trainee join with a name.
func (c *classroom) joins(code, name string, s size) *tab {
	c.t.Helper()
	b := c.open("join.html?code="+code, s)
	b.send("join", "nickname", name)
	b.wait("drills of "+name, "document.querySelector('[data-drill]')")
	return b
}

// opens has a trainee open a drill by its place in the list.
func (b *tab) opens(place int) {
	b.t.Helper()
	b.press(fmt.Sprintf(".class-drills li:nth-child(%d) a", place))
	b.wait("the drill's page", "document.querySelector('#stage')")
	b.waitPlayable()
	b.wait("the class", "document.querySelector('#class-strip')")
}

// line waits until the strip says so of the connection.
func (b *tab) line(want string) {
	b.t.Helper()
	b.wait("the line "+want, fmt.Sprintf("document.querySelector('#class-strip').dataset.line === %q", want))
}

// cell is what the board says of a trainee, by place.
func (b *tab) cell(row int, cell string) string {
	b.t.Helper()
	return b.text(fmt.Sprintf("#board tbody tr:nth-child(%d) [data-cell=%q]", row, cell))
}

func (b *tab) waitCell(row int, cell, pattern string) {
	b.t.Helper()
	b.waitFor(eventPatience, fmt.Sprintf("%s of trainee %d", cell, row),
		fmt.Sprintf("new RegExp(%q, 'i').test(document.querySelector('#board tbody tr:nth-child(%d) [data-cell=%q]')?.textContent ?? '')", pattern, row, cell))
}

// offline cuts a tab off the network, or lets it back.
func (b *tab) offline(off bool) {
	b.t.Helper()
	b.run("network", network.Enable(), chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := network.EmulateNetworkConditionsByRule(off, []*network.Conditions{{DownloadThroughput: -1, UploadThroughput: -1}}).Do(ctx)
		return err
	}), network.OverrideNetworkState(off, 0, -1, -1))
}

// TestClassFromFirstStartToCSV is a whole class: one instructor and three trainees at
// three sizes, a line that breaks, a server that is killed, an exam, a device that is
// changed, until the results are taken away.
func TestClassFromFirstStartToCSV(t *testing.T) {
	c := newClassroom(t)
	desk1 := c.open("class.html", desk)
	desk1.requireAccessible("the door")
	desk1.send("first", "setup", strings.ToLower(c.setup), "password", classPassword)
	desk1.wait("the list of classes", "document.querySelector('form[data-form=make]')")
	desk1.send("add", "which", "a-dull-basin-at-the-station-house")
	desk1.send("add", "which", "hard-water-at-the-mill-house", "exam", "yes")
	require.Equal(t, 2, desk1.count("#plan li"))
	desk1.requireAccessible("the making of a class")
	desk1.send("make", "name", "Wednesday", "minutes", "90")
	desk1.wait("the code", "document.querySelector('#code')")
	code := desk1.text("#code")

	ada := c.joins(code, "Ada", phone)
	ada.requireAccessible("the drills")
	ben := c.joins(code, `=HYPERLINK("x")`, desk)
	cyd := c.joins(code, "<b>Cyd</b>", small)
	for _, b := range []*tab{ada, ben, cyd} {
		require.Zero(t, b.count(".class-drills a"), "there is nothing to work at before the time is started")
		require.Equal(t, 2, b.count(".class-drills button[disabled]"))
		require.Contains(t, b.text("#state"), "The time has not begun yet: the instructor starts it.")
	}
	ada.screenshot("class-waits")
	require.Contains(t, desk1.text("#state"), "90 min. The time has not begun yet")
	desk1.wait("three on the board", "document.querySelectorAll('#board tr[data-member]').length === 3")
	require.Zero(t, desk1.count("#board b"), "a name is text")
	desk1.requireAccessible("the board")
	ada.run("the drill's own address", chromedp.Navigate("http://"+c.address+"/?drill=1"))
	ada.waitFor(eventPatience, "being told to wait", "document.body.innerText.includes('The time has not begun yet')")
	ada.screenshot("class-early")
	ada.takeFaults() // of what was refused
	ada.run("back", chromedp.Navigate("http://"+c.address+"/join.html"))
	ada.waitDesk()
	ada.wait("what cannot be begun", "document.querySelector('.class-drills button[disabled]')")
	ada.requireAccessible("drills that wait")
	desk1.press("[data-do=start]")
	for _, b := range []*tab{ada, ben, cyd} {
		b.wait("drills that open by themselves", "document.querySelectorAll('.class-drills a').length === 2")
	}
	desk1.wait("the time running", "!document.querySelector('[data-do=start]')")
	require.Contains(t, ada.text("#state"), "90 min left", "all of it, at the start")
	for i, b := range []*tab{ada, ben, cyd} {
		require.Contains(t, b.text("#on-wall"), fmt.Sprintf("Trainee %d.", i+1))
	}

	// Ada works, and goes on while her line is down.
	ada.opens(1)
	ada.requireAccessible("a call of a class")
	require.Less(t, ada.measure("hardness-valve"), 2.0)
	desk1.waitCell(1, "state", "at work")
	desk1.waitCell(1, "belief", `\d`)
	desk1.waitCell(1, "last", "hardness")
	ada.offline(true)
	ada.test("hardness-house")
	ada.test("pressure-in")
	ada.line("off")
	ada.wait("both of them waiting", "document.querySelector('#class-strip').dataset.waiting === '2'")
	ada.screenshot("class-offline")
	ada.offline(false)
	ada.line("on")
	ada.takeFaults() // of the requests that were not answered

	// The server is killed, and started again.
	c.kill()
	ada.test("pressure-out")
	desk1.wait("the board without a server", "document.querySelector('#line').dataset.line === 'off'")
	c.start()
	ada.run("loading again", chromedp.Reload()) // what was not sent is on the device
	ada.waitPlayable()
	ada.waitFor(eventPatience, "the line again", "document.querySelector('#class-strip')?.dataset.line === 'on'")
	require.Equal(t, 4, ada.count("#readings tbody tr[data-instrument]"))
	desk1.waitFor(eventPatience, "the board again", "document.querySelector('#line').dataset.line === 'on'")
	for _, b := range []*tab{desk1, ada, ben, cyd} {
		b.takeFaults()
	}

	// All stand still; a hint comes.
	desk1.press("[data-do=freeze]")
	ada.wait("standing still", "document.querySelector('#class-frozen').open")
	desk1.send("message", "text", "Eyes here.")
	ada.wait("what is told meanwhile", "document.querySelector('#class-frozen #class-heard li')")
	ada.press("#class-heard button")
	ada.screenshot("class-frozen")
	desk1.press("[data-do=freeze]")
	ada.wait("going on", "!document.querySelector('#class-frozen').open")
	desk1.send("message", "text", "<i>Look</i> at the bypass.", "hint", "yes")
	ada.wait("the hint", "document.querySelector('#class-heard li')")
	require.Contains(t, ada.text("#class-heard"), "<i>Look</i> at the bypass.")
	desk1.wait("that it was sent", "document.querySelector('#sent').textContent !== ''")
	ada.run("scrolling down", chromedp.Evaluate("scrollTo(0, document.body.scrollHeight)", nil))
	require.GreaterOrEqual(t, eval[float64](ada, "document.querySelector('#class-heard').getBoundingClientRect().top"), 0.0, "seen wherever the page is")
	ada.screenshot("class-hint")
	ada.run("loading again", chromedp.Reload())
	ada.waitPlayable()
	ada.wait("the hint again", "document.querySelector('#class-heard li')")
	ada.press("#class-heard button")
	ada.wait("the hint gone", "!document.querySelector('#class-heard li')")

	// Ada goes on on a desk: the phone may write no more.
	token := recallToken(ada)
	moved := c.open("join.html", desk)
	moved.send("token", "token", strings.ToLower(token))
	moved.wait("her drills", "document.querySelector('[data-drill]')")
	moved.opens(1)
	require.Equal(t, 4, moved.count("#readings tbody tr[data-instrument]"), "all of it is here")
	ada.line("elsewhere")
	ada.takeFaults() // of what was refused
	ada.show("tests")
	ada.unfold(`#tests [data-test="hardness-valve"]`)
	ada.press(`#tests [data-test="hardness-valve"]`)
	ada.wait("being told so", "document.querySelector('#live').innerText.includes('another device')")
	ada.screenshot("class-elsewhere")
	moved.nameCause("bypass-leak", 90)
	moved.finish()
	moved.line("handed")
	desk1.waitCell(1, "score", `\d`)
	score, err := strconv.ParseFloat(strings.TrimPrefix(desk1.cell(1, "score"), "drill 1: "), 64)
	require.NoError(t, err)
	require.InDelta(t, eval[float64](moved, "Number(document.querySelector('#debrief [data-score]').dataset.score)"), score, 0.5, "the server's score is the page's")

	// Ben sits the exam: nothing tells what it is.
	ben.opens(2)
	require.NotContains(t, ben.text("body"), "mill house")
	ben.speak("es")
	require.Equal(t, "Examen", ben.text("#call-h"))
	require.Contains(t, ben.text("#call"), "Sra. Adair, familia de cuatro")
	require.NotContains(t, ben.text("body"), "casa del molino")
	ben.speak("en")
	ben.nameCause("nozzle-plugged", 60)
	ben.show("cause")
	ben.press(`[data-act="finish"]`)
	ben.press(`[data-act="finish-yes"]`)
	ben.wait("being told to wait", "document.querySelector('#await')")
	ben.line("handed")
	require.Zero(t, ben.count("#debrief [data-score]"))
	ben.requireAccessible("an exam that is handed in")

	// The instructor looks on, from another device, at Cyd.
	cyd.opens(1)
	cyd.test("hardness-raw")
	desk1.waitCell(3, "state", "at work")
	desk1.screenshot("board")
	for _, s := range []size{small, phone} {
		desk1.resize(s)
		desk1.requireAccessible("the board")
		desk1.screenshot("board")
	}
	require.Equal(t, "_blank", eval[string](desk1, "document.querySelector('[data-do=wall]').target"), "a window of its own")
	desk1.resize(size{width: 1280, height: 720})
	desk1.run("the wall", chromedp.Navigate(eval[string](desk1, "document.querySelector('[data-do=wall]').href")))
	desk1.waitDesk()
	desk1.wait("three on the wall", "document.querySelectorAll('#board tr[data-member]').length === 3")
	require.NotContains(t, desk1.text("#board"), "Ada")
	require.Zero(t, eval[int](desk1, "[...document.querySelectorAll('#class :is(button, form)')].filter((e) => e.offsetParent).length"), "what the instructor does is done on another page")
	place := func() string {
		return eval[string](desk1, "(() => { const r = document.querySelector('.class-entrance').getBoundingClientRect(); return [r.x, r.y, r.width, r.height].join() })()")
	}
	before := place()
	freeze := func(frozen bool) {
		desk1.run("freezing", chromedp.Evaluate(fmt.Sprintf(`fetch("/api/classes/1/freeze", {method: "POST", headers: {"Content-Type": "application/json"}, body: '{"frozen": %t}'}).then((r) => r.status)`, frozen), nil, awaitPromise))
		desk1.wait("how the class stands", fmt.Sprintf("/stands still/.test(document.querySelector('#state').textContent) === %t", frozen))
	}
	freeze(true)
	require.Equal(t, before, place(), "the way in keeps its place")
	freeze(false)
	require.LessOrEqual(t, eval[int](desk1, "document.documentElement.scrollHeight"), 720, "all of it is seen")
	desk1.requireAccessible("the wall")
	desk1.screenshot("wall-720")
	desk1.resize(size{width: 1920, height: 1080})
	for _, told := range []string{"last", "named", "belief", "score"} {
		require.Zero(t, desk1.count(fmt.Sprintf("#board [data-cell=%q], #board [data-column=%[1]q]", told)), "%s is not for the wall while an exam runs", told)
	}
	require.Zero(t, desk1.count("#board button"), "nor what somebody's sheet tells")
	require.Empty(t, desk1.text("#mistakes"))
	desk1.requireAccessible("the board, projected")
	desk1.screenshot("board-projected")
	desk1.press("[data-do=board]")
	desk1.wait("the board", "document.querySelector('[data-do=wall]') && document.querySelectorAll('#board button').length === 3")
	require.Contains(t, desk1.text("#board"), "Ada")
	desk1.run("yes", chromedp.Evaluate("window.confirm = () => true", nil))
	desk1.resize(desk)
	watched := eval[string](desk1, "(document.querySelector('tr[data-member]:nth-child(3) button').click(), document.querySelector('#member a[data-watch]').href)")
	desk1.screenshot("member")
	desk1.requireAccessible("a trainee's sheet")
	desk1.run("watching", chromedp.Navigate(watched))
	desk1.waitPlayable()
	desk1.wait("the test that was made", "document.querySelectorAll('#readings tbody tr[data-instrument]').length === 1")
	cyd.test("hardness-house")
	desk1.waitFor(eventPatience, "the next one", "document.querySelectorAll('#readings tbody tr[data-instrument]').length === 2")
	desk1.show("tests")
	desk1.unfold(`#tests [data-test="hardness-valve"]`)
	desk1.press(`#tests [data-test="hardness-valve"]`)
	desk1.wait("being told so", "document.querySelector('#live').innerText.includes('look on')")
	desk1.screenshot("watching")

	// The end, and what there is to take away.
	desk1.run("back", chromedp.Navigate("http://"+c.address+"/class.html"))
	desk1.waitDesk()
	desk1.run("yes", chromedp.Evaluate("window.confirm = () => true", nil))
	desk1.press("[data-class]")
	desk1.wait("the class", "document.querySelector('[data-do=end]')")
	desk1.waitCell(2, "score", `\d`)
	desk1.press("[data-do=end]")
	desk1.wait("the end", "!document.querySelector('[data-do=end]')")
	require.NotEmpty(t, desk1.text("#mistakes"))
	desk1.screenshot("class-ended")
	requireResults(t, desk1)
}

// recallToken is the token that a trainee's device keeps.
func recallToken(b *tab) string {
	b.t.Helper()
	return eval[string](b, "localStorage.getItem('brinebench-class-token')")
}

// requireResults reads the results as a spreadsheet would.
func requireResults(t *testing.T, b *tab) {
	t.Helper()
	var text string
	b.run("results", chromedp.Evaluate("fetch(document.querySelector('[data-do=csv]').href).then((r) => r.text())", &text, awaitPromise))
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+3*2, text)
	require.Equal(t, []string{"Ada", "1", "A dull basin at the station house"}, rows[1][:3])
	require.Equal(t, "scored", rows[1][4])
	require.Equal(t, `'=HYPERLINK("x")`, rows[3][0], "no spreadsheet takes a name for a formula")
	require.Equal(t, []string{"<b>Cyd</b>", "being marked"}, []string{rows[5][0], rows[5][4]})
	require.Contains(t, b.text("#incomplete"), "not complete yet")
	require.NoError(t, os.WriteFile(filepath.Join(root, "build/screenshots/class.csv"), []byte(text), 0o644))
	var page string
	b.run("results to print", chromedp.Evaluate("fetch(document.querySelector('[data-do=print]').href).then((r) => r.text())", &page, awaitPromise))
	require.Contains(t, page, "&lt;b&gt;Cyd&lt;/b&gt;")
	require.Contains(t, page, "<td>being marked</td>")
	require.Contains(t, page, "Not complete yet")
}

// TestClassDrillsThatAreNoCalls answers a sizing job and the exercises of the sequence in a
// class: the server marks both.
func TestClassDrillsThatAreNoCalls(t *testing.T) {
	c := newClassroom(t)
	staff := c.instructor(small)
	const most = "999999" // that both pages take
	staff.send("add", "kind", "sizing", "job", most)
	staff.pick("form[data-form=add] [name=kind]", "sequence")
	require.Contains(t, staff.text("[data-asks]"), "25 questions")
	require.Contains(t, staff.text("[data-asks]"), "Trace the water: 10")
	staff.press("form[data-form=add] button.main")
	require.Contains(t, staff.text("#plan"), "Sizing: number "+most)
	staff.send("make", "name", "Thursday", "minutes", "0")
	staff.wait("the code", "document.querySelector('#code')")
	require.Zero(t, staff.count("[data-do=extend]"), "no time that could be longer")
	sheet := c.open("sizing.html", desk)
	sheet.press("[data-show=job]")
	sheet.fillIn("seed", most)
	sheet.press("[data-desk=draw]")
	require.Contains(t, staff.text("#summary"), "1. "+sheet.text("#title")+", number "+most, "the sheet that is printed there is the drill's")
	ada := c.joins(staff.text("#code"), "Ada", phone)

	ada.press(".class-drills li:nth-child(1) a")
	ada.wait("the desk", "document.querySelector('#f-hardness')")
	ada.waitDesk()
	ada.line("on")
	ada.fillIn("hardness", "20")
	ada.requireAccessible("a sizing job of a class")
	ada.run("loading again", chromedp.Reload())
	ada.waitDesk()
	require.Equal(t, "20", eval[string](ada, "document.querySelector('#f-hardness').value"), "kept until it is handed in")
	staff.send("push", "kind", "sizing", "to", "1")
	staff.wait("that it is given", "document.querySelector('#given')?.textContent === 'Given to: Ada'")
	staff.wait("whose it is", "/3\\. .* – Ada/.test(document.querySelector('#summary').textContent)")
	require.Equal(t, "Given to: Ada", staff.text("#given"), "whatever the board has heard since")
	ada.wait("word of it", "document.querySelector('#class-heard [data-heard=drill] a[href=\"join.html\"]')")
	ada.press("#class-heard button")
	staff.waitCell(1, "last", `1 of \d+ answered`)
	require.Contains(t, staff.cell(1, "drill"), "number "+most)

	// She goes on on another device, and then on the first again.
	moved := c.open("join.html", desk)
	moved.send("token", "token", recallToken(ada))
	moved.wait("her drills", "document.querySelector('[data-drill]')")
	for _, b := range []*tab{moved, ada} {
		if b == ada {
			ada.fillIn("daily_water", "900") // too late
			ada.line("elsewhere")
			ada.takeFaults() // of what was refused
			require.True(t, ada.holds("document.querySelector('#f-hardness').closest('[inert]')"), "nothing more is taken here")
			ada.run("loading again", chromedp.Reload())
		} else {
			moved.press(".class-drills li:nth-child(1) a")
		}
		b.wait("the desk", "document.querySelector('#f-hardness')")
		b.waitDesk()
		b.line("on")
		require.Equal(t, "20", eval[string](b, "document.querySelector('#f-hardness').value"), "as far as the server has it")
		require.Empty(t, eval[string](b, "document.querySelector('#f-daily_water').value"))
	}
	ada.run("no", chromedp.Evaluate("window.confirm = () => false", nil))
	ada.press(`[data-desk="mark"]`)
	ada.line("on")
	ada.run("yes", chromedp.Evaluate("window.confirm = () => true", nil))
	ada.press(`[data-desk="mark"]`)
	ada.waitFor(eventPatience, "the marks", "document.querySelector('#marks[data-score]')")
	score := eval[float64](ada, "Number(document.querySelector('#marks').dataset.score)")
	wrong := ada.count("#marks [data-verdict=wrong]")
	ada.line("handed")
	staff.waitCell(1, "score", `\d`)
	require.Equal(t, "drill 1: "+strconv.FormatFloat(math.Round(score), 'f', 0, 64), staff.cell(1, "score"))
	staff.waitCell(1, "state", "handed in")
	staff.waitCell(1, "last", `1 of \d+ answered`)

	ada.run("back", chromedp.Navigate("http://"+c.address+"/join.html"))
	ada.waitDesk()
	ada.wait("the drills", "document.querySelector('.class-drills li:nth-child(2) a')")
	require.Contains(t, ada.text(".class-drills li:nth-child(1)"), "of 100")
	ada.press(".class-drills li:nth-child(2) a")
	ada.wait("the drill's page", "document.querySelector('#question')")
	ada.waitPlayable()
	ada.wait("how far it is", "document.querySelector('#task')")
	ada.requireAccessible("a sequence drill of a class")
	all := eval[int](ada, "Number(document.querySelector('#drill-setup progress').max)")
	for answered := range all {
		require.Regexp(t, fmt.Sprintf(`^%d\. `, answered+1), ada.text("#question-h"))
		if ada.count("#question [data-stop]") > 0 {
			ada.press("#question [data-stop]")
		} else {
			ada.press(`#question [data-cycle="check"]`)
		}
		ada.wait("the answer", fmt.Sprintf("document.querySelector('#task').dataset.answered === '%d'", answered+1))
		ada.press(`[data-cycle="next"]`)
	}
	ada.press("[data-task]")
	ada.waitFor(eventPatience, "the marks", "document.querySelector('.class-marks')")
	ada.requireAccessible("the marks of a sequence drill")
	ada.screenshot("class-sequence")
	require.Equal(t, all, ada.count(".class-marks li"))
	require.Greater(t, eval[float64](ada, "Number(document.querySelector('.class-marks').dataset.score)"), 0.0, "some were right by chance")
	staff.wait("both scores", "document.querySelectorAll('#board [data-score-of]').length === 2")
	staff.wait("what was answered wrong", "document.querySelector('#mistakes [data-mistake=lobes]')")
	require.Regexp(t, `1 not read from the lobes: Backwash`, staff.text("#mistakes"))
	require.Equal(t, wrong, staff.count("#mistakes [data-mistake=figure]"), staff.text("#mistakes"))
	staff.screenshot("class-mistakes")
}

// TestTimeThatIsUpStopsTheWork lets the time of a class run out over a learner's quiz: both
// pages say so at once, nothing more is taken and nothing begun; more time goes on with it.
// When that is over too, what was done is handed in.
func TestTimeThatIsUpStopsTheWork(t *testing.T) {
	c := newClassroom(t)
	staff := c.instructor(desk)
	staff.send("add", "kind", "sequence")
	staff.send("add", "kind", "sizing")
	staff.run("half of a name", chromedp.Evaluate("document.querySelector('[data-form=make] [name=name]').value = 'Fri'", nil))
	staff.pick("form[data-form=add] [name=kind]", "sizing")
	staff.speak("es")
	staff.wait("the form again", "document.querySelector('[data-form=make] [name=name]').value === 'Fri'")
	require.Equal(t, "sizing", eval[string](staff, "document.querySelector('[data-form=add] [name=kind]').value"), "what was chosen stays in another language")
	staff.speak("en")
	staff.send("make", "name", "Friday", "minutes", "60")
	staff.wait("the code", "document.querySelector('#code')")
	code := staff.text("#code")
	ada, ben := c.joins(code, "Ada", phone), c.joins(code, "Ben", small)
	staff.press("[data-do=start]")
	ada.wait("a drill to begin", "document.querySelector('.class-drills a')")
	ada.press(".class-drills li:nth-child(1) a")
	ada.wait("the drill's page", "document.querySelector('#question [data-stop]')")
	ada.waitPlayable()
	ada.wait("the class", "document.querySelector('#class-strip')")
	ada.press("#question [data-stop]")
	ada.wait("it taken", "document.querySelector('#task').dataset.answered === '1'")
	staff.waitCell(1, "last", `1 of \d+ answered`)
	due := func(inMS int) {
		staff.run("time", chromedp.Evaluate(fmt.Sprintf(`fetch("/api/classes/1/extend", {method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify({due: Date.now() + %d})}).then((r) => r.status)`, inMS), nil, awaitPromise))
	}

	require.Equal(t, "none", eval[string](ada, "getComputedStyle(document.querySelector('#class-pill')).display"), "nothing is covered while all is well")
	staff.press("#board tr:nth-child(2) button")
	require.Zero(t, staff.count("#member [data-watch]"), "there is nothing to look at yet")
	staff.run("no", chromedp.Evaluate("window.confirm = () => false", nil))
	staff.press("[data-do=send-out]")
	staff.press("#member button.main")
	staff.press("[data-do=freeze]")
	ben.wait("nothing to begin while frozen", "document.querySelector('.class-drills button[disabled]')")
	require.Contains(t, ben.text(".class-drills"), "stands still")
	staff.waitCell(1, "state", "stopped")
	staff.press("[data-do=freeze]")
	ben.wait("a drill to begin", "document.querySelector('.class-drills a')")

	due(4 * 60_000)
	ada.wait("the last minutes", "getComputedStyle(document.querySelector('#class-pill')).display !== 'none' && document.querySelector('#class-pill').textContent.includes('min left')")
	due(4000)
	ada.line("late")
	require.Zero(t, ada.count("#question button"), "nothing more is asked")
	ada.screenshot("class-late")
	staff.wait("time is up", "document.querySelector('#state').dataset.over === 'true'")
	require.Regexp(t, `Time is up.*\d:\d\d min`, staff.text("#state"))
	ben.wait("nothing to begin", "!document.querySelector('.class-drills :is(a, button)')")
	require.Contains(t, ben.text("#state"), "Time is up")

	due(600_000)
	ada.line("on")
	ada.wait("the next question", "document.querySelector('#question button:not([disabled])')")
	ben.wait("a drill to begin", "document.querySelector('.class-drills a')")

	due(1000)
	ada.line("late")
	const graceAndMore = 90 * time.Second // the server hands in as it stands a minute after
	staff.waitFor(graceAndMore, "a score of the one answer", "/\\d/.test(document.querySelector('#board [data-cell=score]').textContent)")
	ada.waitFor(graceAndMore, "its marks", "document.querySelector('.class-marks[data-score]')")
	ada.screenshot("class-handed-in")
}

// TestAFaultIsOfferedWhereItIsToBeHad chooses calls of a class by their faults: all that is
// offered can be made.
func TestAFaultIsOfferedWhereItIsToBeHad(t *testing.T) {
	c := newClassroom(t)
	staff := c.instructor(desk)
	faults := func() int { return staff.count("form[data-form=add] [name=fault] option") }
	all := faults()
	staff.pick("form[data-form=add] [name=which]", "rung 1")
	few := faults()
	require.Less(t, few, all)
	require.Greater(t, few, 1)
	for i := 1; i < few; i++ {
		staff.run("a fault", chromedp.Evaluate(fmt.Sprintf("document.querySelector('form[data-form=add] [name=fault]').selectedIndex = %d", i), nil))
		staff.press("form[data-form=add] button.main")
	}
	staff.pick("form[data-form=add] [name=which]", "a-dull-basin-at-the-station-house")
	require.True(t, eval[bool](staff, "document.querySelector('form[data-form=add] [name=fault]').closest('label').hidden"), "a call that is named has its own")
	staff.press("form[data-form=add] button.main")
	require.Equal(t, few, staff.count("#plan li"))
	staff.send("make", "name", "Faults", "minutes", "0")
	staff.wait("the class", "document.querySelector('#code')")
}
