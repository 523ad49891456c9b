//! The registry as a whole, and what is stored with it.

use std::collections::BTreeSet;

use super::settings::MOST_SETTINGS;
use super::*;
use crate::{Length, PunchBoard, Ruler, Trimmer};

fn tools() -> Tools {
    Tools::new(
        PunchBoard::default_inch(),
        Ruler::inch(16),
        &Trimmer::default_inch(),
    )
}

#[test]
fn every_structure_has_names_of_its_own_and_few_enough_settings() {
    let kinds = StructureKind::all();
    let slugs: BTreeSet<_> = kinds.iter().map(|kind| kind.slug()).collect();
    let names: BTreeSet<_> = kinds.iter().map(|kind| kind.name()).collect();
    assert_eq!((slugs.len(), names.len()), (kinds.len(), kinds.len()));
    for kind in kinds {
        let fields = kind.fields();
        assert!(
            !fields.is_empty() && fields.len() <= MOST_SETTINGS,
            "{kind:?}"
        );
        let keys: BTreeSet<_> = fields.iter().map(|field| field.key).collect();
        assert_eq!(keys.len(), fields.len(), "{kind:?}");
        for field in fields {
            assert_eq!(field.key, field.name.replace(' ', "_"), "{kind:?}");
        }
        assert_eq!(StructureKind::find(kind.slug()), Some(*kind));
        assert_eq!(StructureKind::find(kind.name()), Some(*kind));
        assert!(kind.about().ends_with('.'), "{kind:?}");
    }
}

/// What existing databases hold, byte for byte.
#[test]
fn stored_settings_are_still_read() {
    let envelope = r#"{"structure":"envelope","sheet":"152.4 mm","punch":"63.5 mm"}"#;
    let boxed =
        r#"{"structure":"box","sheet":"133.35 mm","punch_1":"38.1 mm","punch_2":"73.025 mm"}"#;
    let nm = Length::from_nm;
    let at = PunchEnvelopeSettings {
        sheet: nm(152_400_000),
        punch: nm(63_500_000),
    };
    let box_at = PunchBoxSettings {
        sheet: nm(133_350_000),
        punch_1: nm(38_100_000),
        punch_2: nm(73_025_000),
    };
    for (json, settings) in [
        (envelope, Settings::from(at)),
        (boxed, Settings::from(box_at)),
    ] {
        let read: Settings = serde_json::from_str(json).unwrap();
        assert_eq!(read, settings);
        assert_eq!(serde_json::to_string(&settings).unwrap(), json);
    }
    let turned = r#"{"punch":"63.5 mm","more":[1],"sheet":152.4,"structure":"envelope"}"#;
    assert_eq!(serde_json::from_str::<Settings>(turned).unwrap(), at.into());
    for kind in [PunchEnvelope::KIND, PunchBox::KIND] {
        let json = serde_json::to_string(&kind).unwrap();
        assert_eq!(json, format!("\"{}\"", kind.slug()));
        assert_eq!(serde_json::from_str::<StructureKind>(&json).unwrap(), kind);
    }
}

#[test]
fn settings_that_are_none_say_why() {
    let wrong = |json: &str| {
        serde_json::from_str::<Settings>(json)
            .unwrap_err()
            .to_string()
    };
    let hat = wrong(r#"{"structure":"hat"}"#);
    assert!(
        hat.starts_with("\"hat\" is no structure. The structures are envelope, box, "),
        "{hat}"
    );
    insta::assert_snapshot!(wrong(r#"{"sheet":"1 in"}"#), @"missing field `structure`");
    insta::assert_snapshot!(wrong(r#"{"structure":"envelope","sheet":"1 in"}"#), @"missing field `punch`");
    insta::assert_snapshot!(wrong(r#"{"structure":"envelope","sheet":"wide","punch":1}"#), @r#"sheet: "wide" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."#);
}

#[test]
fn a_tool_that_the_bench_lacks_is_named() {
    let bare = Tools {
        punch_board: None,
        score: None,
        ..tools()
    };
    let refused = |kind: &StructureKind| {
        let settings = Settings::new(*kind, &vec![Length::from_mm(50); kind.fields().len()]);
        let error = Structure::new(settings?, &bare, Length::from_nm(300_000)).err()?;
        Some(format!("{}: {error}", error.field()))
    };
    for kind in StructureKind::all() {
        let named = kind.lacks(&bare).is_none_or(|tool| {
            refused(kind).is_some_and(|it| it.starts_with("tools: ") && it.contains(tool.tool()))
        });
        assert!(named, "{kind:?}");
    }
    let [punched, scored] = [PunchBox::KIND, Tray::KIND].map(|kind| refused(&kind).unwrap());
    insta::assert_snapshot!(punched, @"tools: The punch-board box needs a punch board, and the bench has none. Add one, or choose another structure.");
    insta::assert_snapshot!(scored, @"tools: The tray with lid needs a score board, and the bench has none. Add one, or choose another structure.");
}
