//! The gallery: the demo run's pictures, kept in step with what is drawn today.
//!
//! `BRIMFUL_BLESS=1 cargo test --test plan_plots` draws the gallery anew.

mod plan_common;

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use brimful::plan::{pictured, plan};
use brimful::run::Run;
use brimful::show::pictures;

fn gallery() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("plots")
}

/// The pixels of a PNG, however it was packed.
fn pixels(bytes: &[u8]) -> (u32, u32, Vec<u8>) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes))
        .read_info()
        .expect("a PNG");
    let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut pixels).expect("a picture");
    (info.width, info.height, pixels)
}

#[test]
fn the_gallery_is_what_the_demo_run_draws() {
    let run = Run::read(include_str!("../data/demo.toml"), "demo.toml").unwrap();
    let plan = plan(&run).unwrap();
    let drawn = pictures::all(&plan, &pictured(&run, &plan).unwrap()).unwrap();
    let bless = std::env::var_os("BRIMFUL_BLESS").is_some();
    let mut expected = BTreeSet::new();
    for named in &drawn {
        let [svg, png] = ["svg", "png"].map(|kind| format!("{}.{kind}", named.name));
        let painted = named.picture.png(2.0).unwrap();
        if bless {
            fs::create_dir_all(gallery()).unwrap();
            fs::write(gallery().join(&svg), &named.picture.svg).unwrap();
            fs::write(gallery().join(&png), &painted).unwrap();
        }
        let kept = fs::read_to_string(gallery().join(&svg)).unwrap_or_default();
        assert!(kept == named.picture.svg, "{svg} is out of step");
        let kept = fs::read(gallery().join(&png)).unwrap_or_default();
        assert!(
            !kept.is_empty() && pixels(&kept) == pixels(&painted),
            "{png} is out of step"
        );
        expected.extend([svg, png]);
    }
    let there = fs::read_dir(gallery()).unwrap();
    let there: BTreeSet<String> = there
        .map(|file| file.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(there, expected, "the gallery holds these and no others");
}

/// The demo's plan from outside the drawing: the levels rise from pull-back over target to brim.
#[test]
fn the_sections_stand_in_their_order() {
    let demo = plan_common::planned(include_str!("../data/demo.toml"));
    for fill in demo.pieces.iter().flat_map(|piece| &piece.fills) {
        let window = fill.window;
        assert!(window.pull_back.volume < window.target.volume);
        plan_common::close(fill.dome.volume.ml(), window.target.volume.ml(), 1e-12);
        assert!(window.target.volume < window.brim.volume);
    }
}
