//! The gallery: the demo run's pieces cut through, kept in step with what is drawn today.
//!
//! `BRIMFUL_BLESS=1 cargo test --test plan_plots` draws the gallery anew.

mod plan_common;

use std::fs;
use std::path::PathBuf;

use brimful::plan::{plan, sections};
use brimful::run::Run;
use brimful::show::pictures;

fn gallery() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("plots")
}

#[test]
fn the_gallery_is_what_the_demo_run_draws() {
    let run = Run::read(include_str!("../data/demo.toml"), "demo.toml").unwrap();
    let plan = plan(&run).unwrap();
    let sections = sections(&run, &plan).unwrap();
    assert_eq!(sections.len(), 2);
    let bless = std::env::var_os("BRIMFUL_BLESS").is_some();
    for section in &sections {
        let picture = pictures::section(section, plan.header.units).unwrap();
        let stem = format!("{}-section", section.piece.replace(' ', "-"));
        let (svg, png) = (
            gallery().join(format!("{stem}.svg")),
            gallery().join(format!("{stem}.png")),
        );
        let painted = picture.png(2.0).unwrap();
        if bless {
            fs::create_dir_all(gallery()).unwrap();
            fs::write(&svg, &picture.svg).unwrap();
            fs::write(&png, &painted).unwrap();
        }
        let kept = fs::read_to_string(&svg).unwrap();
        assert!(kept == picture.svg, "{} is out of step", svg.display());
        assert!(
            fs::read(&png).unwrap() == painted,
            "{} is out of step",
            png.display()
        );
    }
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
