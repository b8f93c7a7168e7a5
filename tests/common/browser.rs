//! A browser without a window: it prints pages, and measures them.
#![allow(dead_code, reason = "each test file uses some of this")]

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use crate::common::sheet::Paper;

/// What a browser that can print without a window may be called, the quickest first.
const NAMES: [&str; 5] = [
    "chromium-headless-shell",
    "chromium",
    "chromium-browser",
    "google-chrome",
    "chrome",
];

/// The quickest browser on the path.
pub fn browser() -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let found = NAMES.into_iter().find_map(|name| {
        let mut programs = std::env::split_paths(&path).map(|folder| folder.join(name));
        programs.find(|program| program.is_file())
    });
    if found.is_none() {
        let required = std::env::var("BRIMFUL_BROWSER").is_ok_and(|it| it == "required");
        assert!(
            !required,
            "no browser is on the path, and BRIMFUL_BROWSER requires one"
        );
        println!("skipped: no browser");
    }
    found
}

/// Runs a browser on a file; gives what it writes to standard output.
fn ran(browser: &Path, folder: &Path, args: &[&str], file: &Path) -> String {
    let out = folder.join("out.txt");
    // Its sandbox can't be had as root, and all that it reads is the test's own file.
    let mut child = Command::new(browser)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
            "--disable-extensions",
        ])
        .args([
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ])
        .arg(format!(
            "--user-data-dir={}",
            folder.join("profile").display()
        ))
        .args(args)
        .arg(file)
        .stdout(fs::File::create(&out).unwrap())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let begun = Instant::now();
    loop {
        if let Some(status) = child.try_wait().unwrap() {
            assert!(status.success(), "the browser ended with {status}");
            return fs::read_to_string(out).unwrap();
        }
        if begun.elapsed() > Duration::from_mins(3) {
            child.kill().unwrap();
            panic!("the browser did not end in three minutes");
        }
        sleep(Duration::from_millis(20));
    }
}

/// A page as PDF.
pub fn pdf(browser: &Path, page: &str) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let (file, made) = (
        folder.path().join("sheet.html"),
        folder.path().join("sheet.pdf"),
    );
    fs::write(&file, page).unwrap();
    let print = format!("--print-to-pdf={}", made.display());
    ran(
        browser,
        folder.path(),
        &[
            "--no-pdf-header-footer",
            "--generate-pdf-document-outline",
            &print,
        ],
        &file,
    );
    fs::read(made).unwrap()
}

/// The sizes of a PDF's pages in points, read off its page objects, which this browser's PDF
/// writer leaves uncompressed (ISO 32000-1, 7.7.3.3: `/Type /Page`, `/MediaBox`).
pub fn pages(pdf: &[u8]) -> Vec<[f64; 2]> {
    let text = String::from_utf8_lossy(pdf);
    let page = text.match_indices("/Type /Page").filter(|(at, mark)| {
        let next = text[at + mark.len()..].chars().next();
        next.is_some_and(|c| !c.is_alphanumeric())
    });
    let count = page.count();
    let sizes: Vec<[f64; 2]> = text
        .match_indices("/MediaBox [")
        .map(|(at, mark)| {
            let rest = &text[at + mark.len()..];
            let numbers: Vec<f64> = rest[..rest.find(']').unwrap()]
                .split_whitespace()
                .map(|number| number.parse().unwrap())
                .collect();
            [numbers[2] - numbers[0], numbers[3] - numbers[1]]
        })
        .collect();
    assert_eq!(sizes.len(), count, "each page has its size");
    sizes
}

/// The headings of a PDF and how far above its page's lower edge each one's top is, in points, read off
/// its outline (ISO 32000-1, 12.3.3: `/Title`, and `/Dest` with `/XYZ left top zoom`). The first
/// is the page's own title and has no place.
pub fn headings(pdf: &[u8]) -> Vec<(String, f64)> {
    let text = String::from_utf8_lossy(pdf);
    let items = text.split("<</Title (").skip(2);
    items
        .map(|item| {
            let (title, rest) = item.split_once(")\n").expect("its end");
            let (_, place) = rest.split_once("/XYZ ").expect("its place");
            let top = place.split_whitespace().nth(1).expect("its top");
            (title.to_owned(), top.parse().expect("a number"))
        })
        .collect()
}

/// Measures every frame of a page, each named by its title, and lists what does not fit.
///
/// A test's own script: the sheet has none. An element does not fit where its words are wider
/// than itself, or where it ends right of the page.
const MEASURE: &str = r#"<pre id="told">not measured</pre>
<script>
window.onload = () => {
  const wrong = [], frames = document.querySelectorAll("iframe");
  for (const frame of frames) {
    const inner = frame.contentDocument;
    for (const it of inner.body.querySelectorAll("*")) {
      if (it.closest("svg") || !it.getClientRects().length) continue;
      const name = frame.title + ": " + it.tagName + "." + it.className + ": " + it.textContent.trim().slice(0, 60);
      if (it.clientWidth && it.scrollWidth > it.clientWidth + 1) wrong.push("wide " + name);
      const right = it.getBoundingClientRect().right;
      if (right > inner.documentElement.clientWidth + 0.5) wrong.push("out " + name);
    }
  }
  document.getElementById("told").textContent =
    "measured " + frames.length + ", misfits " + wrong.length + "\n" + wrong.join("\n");
};
</script>"#;

/// What of some pages does not fit into a width.
pub fn misfits(browser: &Path, pages: &[(&str, String)], width: u32) -> String {
    let pages: Vec<_> = pages
        .iter()
        .map(|(name, page)| ((*name).to_owned(), page.clone()))
        .collect();
    let style = format!("width:{width}px;height:3000px");
    measured(browser, &pages, MEASURE, &style)
}

/// What a script tells of some pages, each in a frame of its own.
fn measured(browser: &Path, pages: &[(String, String)], script: &str, style: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("frames.html");
    let mut text = r#"<!doctype html><meta charset="utf-8"><body style="margin:0">"#.to_owned();
    for (name, page) in pages {
        let quoted = page.replace('&', "&amp;").replace('"', "&quot;");
        write!(
            text,
            r#"<iframe title="{name}" style="border:0;{style}" srcdoc="{quoted}"></iframe>"#
        )
        .unwrap();
    }
    text += script;
    fs::write(&file, text).unwrap();
    let args = [
        "--window-size=1400,3200",
        "--virtual-time-budget=8000",
        "--dump-dom",
    ];
    let dom = ran(browser, folder.path(), &args, &file);
    let told = dom.split_once("<pre id=\"told\">").expect("a report").1;
    told.split_once("</pre>")
        .expect("its end")
        .0
        .trim()
        .to_owned()
}

/// ISO 216 and ANSI/ASME Y14.1 in points of 1/72 inch, as near as a browser's own pixels of 1/96.
pub fn close_to(size: [f64; 2], paper: Paper) {
    let wanted = match paper {
        Paper::A4 => [210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0],
        Paper::Letter => [612.0, 792.0],
    };
    for (got, wanted) in size.into_iter().zip(wanted) {
        assert!((got - wanted).abs() < 0.75, "{size:?} is not {paper:?}");
    }
}

/// Measures every drawing of every frame, each named by its title: each line of text as it is painted, by its
/// box (SVG 2, 4.6.4: `getBBox`) turned into the drawing's own units, a little smaller for the
/// rounding of letters to pixels. A sign of another face brings that face's higher line.
const DRAWN: &str = r#"<pre id="told">not measured</pre>
<script>
window.onload = () => {
  let texts = 0; const wrong = [];
  const box = (it, svg, slack) => {
    const b = it.getBBox(), m = svg.getScreenCTM().inverse().multiply(it.getScreenCTM());
    const at = [[0, 0], [1, 0], [0, 1], [1, 1]].map(([x, y]) =>
      new DOMPoint(b.x + x * b.width, b.y + y * b.height).matrixTransform(m));
    const xs = at.map(p => p.x), ys = at.map(p => p.y);
    return [Math.min(...xs) + slack, Math.min(...ys) + slack, Math.max(...xs) - slack, Math.max(...ys) - slack];
  };
  const measure = (name, svg, all, view) => {
    const slack = view.height / 800, boxes = [];
    for (const it of all) {
      const words = it.textContent.trim();
      if (!words) continue;
      texts += 1;
      const sign = /\p{Extended_Pictographic}|[\u0590-\u06ff]/u.test(words);
      const b = box(it, svg, sign ? it.getBBox().height * 0.2 : slack);
      if (b[0] < view.x || b[1] < view.y || b[2] > view.x + view.width || b[3] > view.y + view.height)
        wrong.push(name + ": out: " + words);
      for (const [other, o] of boxes)
        if (b[0] < o[2] && o[0] < b[2] && b[1] < o[3] && o[1] < b[3]) wrong.push(name + ": " + words + " over " + other);
      boxes.push([words, b]);
    }
  };
  for (const frame of document.querySelectorAll("iframe")) {
    const inner = frame.contentDocument;
    for (const svg of inner.querySelectorAll("svg.page")) {
      const view = svg.viewBox.baseVal;
      for (const use of svg.querySelectorAll("use")) {
        const b = box(use, svg, 0);
        if (b[0] < view.x - 2 || b[1] < view.y - 2 || b[2] > view.width + 2 || b[3] > view.height + 2)
          wrong.push(frame.title + ": a label leaves its sheet");
      }
    }
    for (const label of inner.querySelectorAll("svg.stock g")) {
      const svg = inner.querySelector("svg.page").cloneNode(false), copy = label.cloneNode(true);
      svg.append(copy);
      inner.body.append(svg);
      const all = [...copy.querySelectorAll("text")], rim = copy.querySelector("rect");
      measure(frame.title, svg, all, rim ? rim.getBBox() : svg.viewBox.baseVal);
      svg.remove();
    }
    const svg = inner.querySelector("svg:not(.stock):not(.page)");
    if (svg) measure(frame.title, svg, [...svg.querySelectorAll("text")], svg.viewBox.baseVal);
  }
  document.getElementById("told").textContent = wrong.join("\n") + "\nmeasured " + texts + ", wrong " + wrong.length;
};
</script>"#;

/// What of some drawings, or pages of labels, leaves its place or shares it. It begins
/// with "measured N" and ends with "wrong M".
pub fn drawn(browser: &Path, drawings: &[(String, String)]) -> String {
    let told = measured(browser, drawings, DRAWN, "width:900px;height:1300px");
    // "measured N, wrong M" last, what is wrong between the two
    match told.rsplit_once('\n') {
        Some((wrong, last)) => last.replace(", wrong", &format!(":\n{wrong}, wrong")),
        None => told,
    }
}
