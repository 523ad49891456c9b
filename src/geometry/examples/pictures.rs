//! Every kind of picture on one page, to be looked at after a change:
//! `cargo run -p tablefold-geometry --example pictures > pictures.html`.

#![expect(clippy::print_stdout, reason = "the page is the output")]

use tablefold_geometry::*;

fn main() {
    println!(
        "<!doctype html><meta charset=utf-8><style>\
         body{{font:16px system-ui,sans-serif;margin:8px}}\
         section{{display:inline-block;vertical-align:top;margin:4px;width:340px;border:1px solid #ccc}}\
         .pic{{display:block;width:340px}} p{{margin:4px;font-size:12px}} .pic-sample{{vertical-align:middle}}\
         </style>"
    );
    for (index, scene) in scenes().iter().enumerate() {
        let svg = Svg::write(scene, &format!("p{index}"));
        println!(
            "<section>{svg}<p><b>{}</b> ({} bytes) {}</p><p>",
            scene.title,
            svg.as_str().len(),
            scene.description
        );
        for entry in scene.legend() {
            println!("{} {} &nbsp; ", entry.svg, entry.words);
        }
        println!("</p></section>");
    }
}

fn scenes() -> Vec<Scene> {
    let mut scenes = Vec::new();
    scenes.extend(board());
    scenes
}

fn sixteenths(n: i64) -> Length {
    Length::inch_fraction(n, 16).unwrap_or_default()
}

fn board() -> Vec<Scene> {
    let inch = PunchBoard::default_inch();
    let metric = PunchBoard::default_metric();
    let sheet = sixteenths(84);
    let punches = [sixteenths(24), sixteenths(47)];
    let mut scenes = Vec::new();
    for (side, now) in [
        (1, PunchNow::Punch(0)),
        (1, PunchNow::Punch(1)),
        (2, PunchNow::Turn),
        (2, PunchNow::Punch(0)),
        (2, PunchNow::Punch(1)),
        (3, PunchNow::AlongGuide),
        (4, PunchNow::Punch(0)),
        (4, PunchNow::AlongGuide),
    ] {
        scenes.push(punch_picture(PunchPicture {
            board: &inch,
            sheet,
            punches: &punches,
            side,
            now,
        }));
    }
    let large = [sixteenths(187)];
    scenes.push(punch_picture(PunchPicture {
        board: &inch,
        sheet: Length::inches(12),
        punches: &large,
        side: 1,
        now: PunchNow::Punch(0),
    }));
    let mm = [Length::from_mm(76), Length::from_mm(98)];
    for side in [1, 2] {
        scenes.push(punch_picture(PunchPicture {
            board: &metric,
            sheet: Length::from_mm(210),
            punches: &mm,
            side,
            now: PunchNow::Punch(1),
        }));
    }
    scenes
}
