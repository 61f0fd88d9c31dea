package outside

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// A Tab is a page in headless Chromium, driven over a pair of pipes in the browser's
// remote debugging protocol: each message one JSON document that ends in a zero byte.
type Tab struct {
	t       testing.TB
	to      io.Writer
	session string

	mu       sync.Mutex
	next     int
	answers  map[int]chan answer
	loaded   chan struct{}
	messages []string
}

type answer struct {
	Result json.RawMessage
	Error  *struct{ Message string }
}

// patience is how long a tab waits for the browser.
const patience = 60 * time.Second

// NewTab starts a browser with one empty page. It ends with the test.
func NewTab(t testing.TB) *Tab {
	t.Helper()
	bin, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatalf("the browser is missing: install Debian's chromium (%v)", err)
	}
	in, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run",
		"--remote-debugging-pipe", "--user-data-dir="+filepath.Join(t.TempDir(), "profile"), "about:blank")
	cmd.ExtraFiles = []*os.File{in, out} // the browser reads 3 and writes 4
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	in.Close()
	out.Close()
	tab := &Tab{t: t, to: to, answers: map[int]chan answer{}, loaded: make(chan struct{}, 16)}
	go tab.listen(from)
	t.Cleanup(func() {
		to.Close()
		done := make(chan struct{})
		go func() { _ = cmd.Wait(); close(done) }()
		select {
		case <-done:
		case <-time.After(5 * time.Second):
			_ = cmd.Process.Kill()
			<-done
		}
		from.Close()
	})
	var target struct{ TargetID string }
	tab.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var session struct{ SessionID string }
	tab.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &session)
	tab.session = session.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log"} {
		tab.call(domain+".enable", nil, nil)
	}
	return tab
}

// listen takes the browser's messages apart until it ends.
func (p *Tab) listen(from io.Reader) {
	r := bufio.NewReader(from)
	for {
		line, err := r.ReadBytes(0)
		if err != nil {
			return
		}
		var m struct {
			ID     int
			Method string
			Params json.RawMessage
			answer
		}
		if json.Unmarshal(line[:len(line)-1], &m) != nil {
			continue
		}
		switch {
		case m.ID > 0:
			p.mu.Lock()
			c := p.answers[m.ID]
			delete(p.answers, m.ID)
			p.mu.Unlock()
			if c != nil {
				c <- m.answer
			}
		case m.Method == "Page.loadEventFired":
			p.loaded <- struct{}{}
		case m.Method == "Runtime.consoleAPICalled", m.Method == "Runtime.exceptionThrown", m.Method == "Log.entryAdded":
			p.mu.Lock()
			p.messages = append(p.messages, m.Method+" "+string(m.Params))
			p.mu.Unlock()
		}
	}
}

// call asks the browser and waits for its answer.
func (p *Tab) call(method string, params any, result any) {
	p.t.Helper()
	p.mu.Lock()
	p.next++
	id, c := p.next, make(chan answer, 1)
	p.answers[id] = c
	p.mu.Unlock()
	m := map[string]any{"id": id, "method": method}
	if params != nil {
		m["params"] = params
	}
	if p.session != "" {
		m["sessionId"] = p.session
	}
	text, err := json.Marshal(m)
	if err != nil {
		p.t.Fatal(err)
	}
	if _, err := p.to.Write(append(text, 0)); err != nil {
		p.t.Fatalf("%s: the browser does not listen: %v", method, err)
	}
	select {
	case a := <-c:
		if a.Error != nil {
			p.t.Fatalf("%s: %s", method, a.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(a.Result, result); err != nil {
				p.t.Fatalf("%s: %v", method, err)
			}
		}
	case <-time.After(patience):
		p.t.Fatalf("%s: the browser does not answer", method)
	}
}

// Size makes the window w by h CSS pixels, a phone's where phone is true.
func (p *Tab) Size(w, h int, phone bool) {
	p.t.Helper()
	p.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": w, "height": h, "deviceScaleFactor": 1, "mobile": phone}, nil)
}

// Open loads a file and waits until it is there, with the page's own scripts or
// without. Messages of pages before are forgotten.
func (p *Tab) Open(path string, scripts bool) {
	p.t.Helper()
	p.mu.Lock()
	p.messages = nil
	p.mu.Unlock()
	for len(p.loaded) > 0 {
		<-p.loaded
	}
	p.call("Emulation.setScriptExecutionDisabled", map[string]any{"value": !scripts}, nil)
	p.call("Page.navigate", map[string]any{"url": "file://" + path}, nil)
	select {
	case <-p.loaded:
	case <-time.After(patience):
		p.t.Fatalf("%s does not load", path)
	}
	if !scripts { // for Eval; what did not run at loading does not run now
		p.call("Emulation.setScriptExecutionDisabled", map[string]any{"value": false}, nil)
	}
}

// Messages are what the page told the console since it was opened: errors, warnings,
// refusals of the browser and all else.
func (p *Tab) Messages() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.messages...)
}

// Eval evaluates an expression in the page; result takes its JSON.
func (p *Tab) Eval(js string, result any) {
	p.t.Helper()
	var out struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails json.RawMessage
	}
	p.call("Runtime.evaluate", map[string]any{"expression": js, "returnByValue": true}, &out)
	if len(out.ExceptionDetails) > 0 {
		p.t.Fatalf("%s: %s", js, out.ExceptionDetails)
	}
	if err := json.Unmarshal(out.Result.Value, result); err != nil {
		p.t.Fatalf("%s: %v", js, err)
	}
}

// Type presses the keys of a text one by one.
func (p *Tab) Type(text string) {
	p.t.Helper()
	for _, r := range text {
		key := string(r)
		p.call("Input.dispatchKeyEvent", map[string]any{"type": "keyDown", "key": key, "text": key, "unmodifiedText": key}, nil)
		p.call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": key}, nil)
	}
}

// keyCodes are the keys that Press knows.
var keyCodes = map[string]int{"Tab": 9, "Enter": 13, "Escape": 27, "ArrowDown": 40, "ArrowUp": 38, "Home": 36}

// Press presses a key that types nothing.
func (p *Tab) Press(key string) {
	p.t.Helper()
	code, ok := keyCodes[key]
	if !ok {
		p.t.Fatalf("key %s is not known here", key)
	}
	down := map[string]any{"type": "keyDown", "key": key, "code": key, "windowsVirtualKeyCode": code}
	if key == "Enter" {
		down["text"] = "\r"
	}
	p.call("Input.dispatchKeyEvent", down, nil)
	p.call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": key, "code": key, "windowsVirtualKeyCode": code}, nil)
}

// PDF prints the page on paper of w by h inches at its own margins.
func (p *Tab) PDF(w, h float64) []byte {
	p.t.Helper()
	var out struct{ Data string }
	p.call("Page.printToPDF", map[string]any{"paperWidth": w, "paperHeight": h, "printBackground": true, "preferCSSPageSize": false}, &out)
	return p.decoded(out.Data)
}

// Media lays the page out as for a medium, "print" or "screen".
func (p *Tab) Media(name string) {
	p.t.Helper()
	p.call("Emulation.setEmulatedMedia", map[string]any{"media": name}, nil)
}

// Screenshot is a PNG of the whole page, however long.
func (p *Tab) Screenshot() []byte {
	p.t.Helper()
	var out struct{ Data string }
	p.call("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true}, &out)
	return p.decoded(out.Data)
}

func (p *Tab) decoded(data string) []byte {
	p.t.Helper()
	b, err := base64.StdEncoding.DecodeString(data)
	if err != nil {
		p.t.Fatal(fmt.Errorf("the browser's answer: %w", err))
	}
	return b
}
