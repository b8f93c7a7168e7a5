//! The gallery: the pictures of the demo and of the winter run, kept in step with what is drawn today.
//!
//! `BRIMFUL_BLESS=1 cargo test --test in_step` draws the gallery anew.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use brimful::plan::{pictured, plan};
use brimful::run::Run;
use brimful::show::pictures;

fn gallery(folder: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(folder)
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

/// A PNG packed for keeping: the program packs the quick way.
fn packed(bytes: &[u8]) -> Vec<u8> {
    let (width, height, pixels) = pixels(bytes);
    let mut small = Vec::new();
    let mut encoder = png::Encoder::new(&mut small, width, height);
    let info = png::Decoder::new(std::io::Cursor::new(bytes));
    let info = info.read_info().expect("a PNG").info().clone();
    encoder.set_color(info.color_type);
    encoder.set_depth(info.bit_depth);
    encoder.set_compression(png::Compression::High);
    let mut writer = encoder.write_header().expect("a header");
    writer.write_image_data(&pixels).expect("a picture");
    writer.finish().expect("an end");
    small
}

/// Fails unless a folder holds a run's pictures as they are drawn today, and no other files.
#[track_caller]
fn in_step(text: &str, folder: &str) {
    let run = Run::read(text, "run.toml").unwrap();
    let plan = plan(&run).unwrap();
    let drawn = pictures::all(&plan, &pictured(&run, &plan).unwrap()).unwrap();
    let bless = std::env::var_os("BRIMFUL_BLESS").is_some();
    let at = |name: &str| gallery(folder).join(name);
    let mut expected = BTreeSet::new();
    for named in &drawn {
        let [svg, png] = ["svg", "png"].map(|kind| format!("{}.{kind}", named.name));
        let painted = named.picture.png(2.0).unwrap();
        if bless {
            fs::create_dir_all(gallery(folder)).unwrap();
            fs::write(at(&svg), &named.picture.svg).unwrap();
            let kept = fs::read(at(&png)).unwrap_or_default();
            if kept.is_empty() || pixels(&kept) != pixels(&painted) {
                fs::write(at(&png), packed(&painted)).unwrap();
            }
        }
        let kept = fs::read_to_string(at(&svg)).unwrap_or_default();
        assert!(kept == named.picture.svg, "{svg} is out of step");
        let kept = fs::read(at(&png)).unwrap_or_default();
        assert!(
            !kept.is_empty() && pixels(&kept) == pixels(&painted),
            "{png} is out of step"
        );
        expected.extend([svg, png]);
    }
    let there = fs::read_dir(gallery(folder)).unwrap();
    let there = there.map(|entry| entry.unwrap());
    let there: BTreeSet<String> = there
        .filter(|entry| entry.file_type().unwrap().is_file())
        .map(|file| file.file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(there, expected, "the gallery holds these and no others");
}

#[test]
fn the_gallery_is_what_the_demo_run_draws() {
    in_step(include_str!("../../data/demo.toml"), "plots");
}

#[test]
fn its_winter_is_what_the_winter_run_draws() {
    in_step(include_str!("../../data/winter.toml"), "plots/winter");
}

/// The demo's plan from outside the drawing: the levels rise from pull-back over target to brim.
#[test]
fn the_sections_stand_in_their_order() {
    let demo = crate::common::plan::planned(include_str!("../../data/demo.toml"));
    for fill in demo.pieces.iter().flat_map(|piece| &piece.fills) {
        let window = fill.window;
        assert!(window.pull_back.volume < window.target.volume);
        crate::common::plan::close(fill.dome.volume.ml(), window.target.volume.ml(), 1e-12);
        assert!(window.target.volume < window.brim.volume);
    }
}
