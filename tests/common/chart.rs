//! What the tests of pictures share.
#![allow(dead_code, reason = "each test uses a part")]

use brimful::coating::cautions;
use brimful::show::chart::Care;
use brimful::show::draw::Picture;
use resvg::usvg;

/// The cautions of our invented magnets' coating.
pub fn care() -> Care {
    Care::of_family("water-based", cautions("water-based").expect("a family"))
}

/// Reads a picture's SVG back with the carried fonts and nothing else.
pub fn read(picture: &Picture) -> usvg::Tree {
    tree(&picture.svg)
}

fn tree(svg: &str) -> usvg::Tree {
    let mut options = usvg::Options {
        font_family: "DejaVu Sans".to_owned(),
        ..usvg::Options::default()
    };
    for face in [
        "DejaVuSans.ttf",
        "DejaVuSans-Bold.ttf",
        "NotoEmoji-Regular.ttf",
    ] {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("data/fonts")
            .join(face);
        options
            .fontdb_mut()
            .load_font_data(std::fs::read(path).expect("the font is there"));
    }
    usvg::Tree::from_str(svg, &options).expect("the picture is SVG")
}

/// Every line of text with the space it takes once shaped, `[px]`.
pub fn texts(group: &usvg::Group, out: &mut Vec<(String, usvg::Rect)>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => texts(inner, out),
            usvg::Node::Text(text) => {
                let words: String = text.chunks().iter().map(usvg::TextChunk::text).collect();
                // A sign of another face brings that face's higher line, so it is judged by its ink.
                let space = if words.chars().any(|c| c >= '\u{1F000}') {
                    text.flattened().abs_bounding_box()
                } else {
                    text.abs_bounding_box()
                };
                out.push((words, space));
            }
            _ => {}
        }
    }
}

/// Fails if any two lines of text share a space, or one leaves the picture.
pub fn legible(name: &str, picture: &Picture) {
    let found = fitting_texts(name, &picture.svg);
    assert!(found >= 4, "{name}: only {found} lines of text");
}

/// The same for any drawing; tells how many lines of text it has.
pub fn fitting_texts(name: &str, svg: &str) -> usize {
    let tree = tree(svg);
    let mut found = Vec::new();
    texts(tree.root(), &mut found);
    for (i, (words, space)) in found.iter().enumerate() {
        assert!(
            space.left() >= 0.0
                && space.top() >= 0.0
                && space.right() <= tree.size().width()
                && space.bottom() <= tree.size().height(),
            "{name}: \"{words}\" leaves the picture: {space:?}"
        );
        for (others, other) in &found[..i] {
            let apart = space.left() >= other.right()
                || other.left() >= space.right()
                || space.top() >= other.bottom()
                || other.top() >= space.bottom();
            assert!(
                apart,
                "{name}: \"{words}\" {space:?} lies over \"{others}\" {other:?}"
            );
        }
    }
    found.len()
}
