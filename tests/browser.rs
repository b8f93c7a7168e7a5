//! The run sheet in a browser: printed, counted by pages, and measured for words that do not fit.
//!
//! Without a browser these tests say so and pass, unless `BRIMFUL_BROWSER=required`.

mod sheet_common;

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use sheet_common::{DEMO, Paper, TEN, all, printed};

/// What a browser that can print without a window may be called.
const NAMES: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "chrome"];

/// The first browser on the path.
fn browser() -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let found = std::env::split_paths(&path)
        .flat_map(|folder| NAMES.map(|name| folder.join(name)))
        .find(|program| program.is_file());
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
fn pdf(browser: &Path, page: &str) -> Vec<u8> {
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
        &["--no-pdf-header-footer", &print],
        &file,
    );
    fs::read(made).unwrap()
}

/// The sizes of a PDF's pages in points, read off its page objects, which this browser's PDF
/// writer leaves uncompressed (ISO 32000-1, 7.7.3.3: `/Type /Page`, `/MediaBox`).
fn pages(pdf: &[u8]) -> Vec<[f64; 2]> {
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

/// ISO 216 and ANSI/ASME Y14.1 in points of 1/72 inch, as near as a browser's own pixels of 1/96.
fn close_to(size: [f64; 2], paper: Paper) {
    let wanted = match paper {
        Paper::A4 => [210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0],
        Paper::Letter => [612.0, 792.0],
    };
    for (got, wanted) in size.into_iter().zip(wanted) {
        assert!((got - wanted).abs() < 0.75, "{size:?} is not {paper:?}");
    }
}

#[test]
fn the_demo_prints_on_one_page_and_ten_kinds_on_two() {
    let Some(browser) = browser() else { return };
    let us = |text: &str| text.replace("\"metric\"", "\"us\"");
    for (text, most) in [
        (DEMO.to_owned(), 1),
        (us(DEMO), 1),
        (TEN.to_owned(), 2),
        (us(TEN), 2),
    ] {
        for paper in [Paper::A4, Paper::Letter] {
            let (plan, page) = printed(&text, paper);
            let pages = pages(&pdf(&browser, &page));
            assert!(!pages.is_empty());
            for size in &pages {
                close_to(*size, paper);
            }
            let units = plan.header.units;
            assert!(
                pages.len() <= most,
                "{} pages of {paper:?} in {units:?}",
                pages.len()
            );
        }
    }
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
fn misfits(browser: &Path, pages: &[(&str, String)], width: u32) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("frames.html");
    let mut text = r#"<!doctype html><meta charset="utf-8"><body style="margin:0">"#.to_owned();
    for (name, page) in pages {
        let quoted = page.replace('&', "&amp;").replace('"', "&quot;");
        let style = format!("border:0;width:{width}px;height:3000px");
        write!(
            text,
            r#"<iframe title="{name}" style="{style}" srcdoc="{quoted}"></iframe>"#
        )
        .unwrap();
    }
    text += MEASURE;
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

/// On paper, between margins of 9 mm at 96 pixels to an inch, and on a phone.
#[test]
fn nothing_is_wider_than_its_place() {
    let Some(browser) = browser() else { return };
    let none = |count: usize| format!("measured {count}, misfits 0");
    let printed: Vec<_> = (all().iter())
        .map(|(name, _, page)| {
            let page = page.replace("@media print", "@media all");
            (*name, page.replace("@media screen", "@media speech"))
        })
        .collect();
    for wide in [725, 748] {
        let got = misfits(&browser, &printed, wide);
        assert_eq!(got, none(printed.len()), "on paper {wide} wide");
    }
    let pages: Vec<_> = (all().iter())
        .map(|(name, _, page)| (*name, page.clone()))
        .collect();
    for phone in [360, 412] {
        assert_eq!(
            misfits(&browser, &pages, phone),
            none(pages.len()),
            "on a phone"
        );
    }
}

/// What is measured can fail: a line that can't be broken is found, and so are many pages.
#[test]
fn what_does_not_fit_is_found() {
    let Some(browser) = browser() else { return };
    let line = format!(
        "<!doctype html><p style='white-space:nowrap'>{}",
        "wide ".repeat(60)
    );
    let got = misfits(&browser, &[("line", line)], 300);
    assert!(
        got.contains("out line") || got.contains("wide line"),
        "{got}"
    );
    assert!(pages(&pdf(&browser, &"<p>line".repeat(400))).len() > 5);
}
