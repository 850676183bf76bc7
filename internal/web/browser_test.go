package web

import (
	"context"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// browser starts a headless browser. In CI, or with CROSSBIN_BROWSER=required,
// a machine without one fails the test; elsewhere the test is skipped.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := findBrowser()
	if err != nil {
		if os.Getenv("CI") != "" || os.Getenv("CROSSBIN_BROWSER") == "required" {
			t.Fatal("no chromium on this machine, and this run requires one")
		}
		t.Skip("no chromium on this machine; the pages are tested without a browser only")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, // root in a container has no sandbox
		chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-background-networking", true), chromedp.WSURLReadTimeout(time.Minute))
	limited, stop := context.WithTimeout(t.Context(), 3*time.Minute)
	t.Cleanup(stop)
	allocator, stopAllocator := chromedp.NewExecAllocator(limited, options...)
	t.Cleanup(stopAllocator)
	ctx, stopBrowser := chromedp.NewContext(allocator)
	t.Cleanup(stopBrowser)
	return ctx
}

func findBrowser() (path string, err error) {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err = exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", err
}

// eval asks the page for a value.
func eval[T any](ctx context.Context, t *testing.T, js string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js))
	if err != nil {
		t.Fatalf("%s: %v", js, err)
	}
	return v
}

func do(ctx context.Context, t *testing.T, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

// A person with a keyboard alone, or a scanner that types, asks and reads the
// answer.
func TestAskWithTheKeyboardAlone(t *testing.T) {
	f := &fake{result: allVerdicts()}
	s := httptest.NewServer(handler(f))
	defer s.Close()
	ctx := browser(t)
	do(ctx, t, chromedp.EmulateViewport(800, 1280), chromedp.Navigate(s.URL+"/"), chromedp.WaitVisible("#frame"))
	if got := eval[string](ctx, t, "document.activeElement.id"); got != "frame" {
		t.Fatalf("typing goes to %q, want the frame number", got)
	}
	do(ctx, t, chromedp.KeyEvent("ZQX30-0123456"), chromedp.KeyEvent(kb.Enter), chromedp.WaitVisible(".prompt"))
	if _, calls := f.last(); calls != 0 {
		t.Error("asked without a part type")
	}
	tabTo(ctx, t, "type")
	do(ctx, t, chromedp.KeyEvent(" "), chromedp.KeyEvent(kb.Enter), chromedp.WaitVisible("#line-1"))
	if q, _ := f.last(); q.Frame != "ZQX30-0123456" || q.Type != "alternator" {
		t.Errorf("asked %+v", q)
	}
	if got, want := eval[string](ctx, t, "document.querySelector('#line-1').innerText"), "Fits: your list says so, not tried here"; !strings.HasSuffix(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	openWhy(ctx, t)
	checkSizes(ctx, t)
}

// tabTo presses the tab key until a field of a name has the focus.
func tabTo(ctx context.Context, t *testing.T, name string) {
	t.Helper()
	for range 30 {
		do(ctx, t, chromedp.KeyEvent(kb.Tab))
		if eval[string](ctx, t, "document.activeElement.name || ''") == name {
			return
		}
	}
	t.Fatalf("no way to the field %s with the tab key", name)
}

// openWhy opens the first "Why" with the keyboard and finds the cell behind it.
func openWhy(ctx context.Context, t *testing.T) {
	t.Helper()
	for range 40 {
		do(ctx, t, chromedp.KeyEvent(kb.Tab))
		if eval[bool](ctx, t, "document.activeElement.matches('.tag summary')") {
			do(ctx, t, chromedp.KeyEvent(kb.Enter))
			if got := eval[string](ctx, t, "document.activeElement.closest('details').innerText"); !strings.Contains(got, "row 6, cell C6") {
				t.Errorf("behind why: %q", got)
			}
			return
		}
	}
	t.Fatal("no way to Why with the tab key")
}

// smallTargets lists what can be pressed and is under 48 pixels high, links in
// running text aside.
const smallTargets = `[...document.querySelectorAll('a, button, input:not([type=hidden]):not([type=radio]), select, summary, .pick')]
	.filter(e => e.offsetParent && !e.matches('.skip') && e.getBoundingClientRect().height < 48)
	.map(e => (e.id || e.innerText) + ' ' + e.getBoundingClientRect().height).join('; ')`

// checkSizes holds the page to its widths: nothing sticks out, everything that
// is pressed is large enough, in the size of a phone, a tablet and a screen.
func checkSizes(ctx context.Context, t *testing.T) {
	t.Helper()
	for _, width := range []int64{390, 800, 1280} {
		do(ctx, t, chromedp.EmulateViewport(width, 1000))
		if got := eval[int64](ctx, t, "document.documentElement.scrollWidth"); got > width {
			t.Errorf("at %d the page is %d wide", width, got)
		}
		if got := eval[string](ctx, t, smallTargets); got != "" {
			t.Errorf("at %d too small to press: %s", width, got)
		}
	}
}

// Answering a look on the page asks again with one more fact.
func TestAnswerALookInTheBrowser(t *testing.T) {
	f := &fake{result: allVerdicts(), found: foundTwo(), lists: twoLists(), around: bothWays()}
	s := httptest.NewServer(handler(f))
	defer s.Close()
	ctx := browser(t)
	do(ctx, t, chromedp.Navigate(s.URL+asked), chromedp.WaitVisible("#question"))
	do(ctx, t, chromedp.Focus(".results a"), chromedp.KeyEvent(kb.Enter), chromedp.WaitVisible("input[name=transmission][value=AT]:checked + label"))
	if q, _ := f.last(); q.Transmission != "AT" || q.Frame != "ZQX30-0123456" || len(q.With) != 1 {
		t.Errorf("asked %+v", q)
	}
	for _, target := range []string{"/find?q=98760", "/part?part=98760-50090", "/lists", "/nowhere"} {
		do(ctx, t, chromedp.Navigate(s.URL+target), chromedp.WaitVisible("h1"))
		checkSizes(ctx, t)
	}
}
