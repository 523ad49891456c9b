//! `tablefold pattern`: the flat pattern of a piece, JSON in, FOLD, SVG or PDF out.

use clap::{Args, ValueEnum};
use serde_json::Value;
use tablefold_geometry::{
    Body, Length, Pattern, Quoted, Settings, Structure, StructureKind, Tools, cutter_svg,
    fold_file, pattern_svg,
};

use super::CommandError;
use super::json::{Object, length, parse, wrong};
use super::request::{
    FIELDS, known_structures, read_request, read_structure, read_tools_of_settings, words,
};
use super::size::sized;
use crate::print::{PrintLines, PrintOptions, PrintPaper, Template, templates_pdf};

/// How the pattern is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PatternFormat {
    /// FOLD 1.2, JSON
    Fold,
    /// SVG in millimetres, to look at: cuts and scores in groups of their own, scores dashed
    Svg,
    /// SVG in millimetres, for a cutting machine: whole lines, no dashes, windows before outlines
    Cutter,
    /// PDF at true size, to print and cut along
    Pdf,
}

/// Options of `tablefold pattern`.
#[derive(Clone, Copy, Debug, Args)]
pub struct PatternOptions {
    /// How the pattern is written
    #[arg(long, value_enum, default_value_t = PatternFormat::Fold)]
    pub format: PatternFormat,

    /// Of a PDF, what it is printed on
    #[arg(long, value_enum, default_value_t = PrintPaper::A4)]
    pub paper: PrintPaper,

    /// Of a PDF, whether cuts and scores share a page
    #[arg(long, value_enum, default_value_t = PrintLines::Together)]
    pub lines: PrintLines,
}

/// Answers a request; text ends with a line break.
///
/// # Errors
/// One line that names the field, quotes the value and says what would do.
pub fn pattern_command(text: &str, options: PatternOptions) -> Result<Vec<u8>, CommandError> {
    let value = parse(text)?;
    let mut fields = FIELDS.to_vec();
    fields.extend(["settings", "body"]);
    let request = Object::root(&value, &fields)?;
    let Some(kind) = read_structure(&request)? else {
        let sentence = format!("nothing is given. Give {}.", known_structures());
        return Err(wrong("structure", sentence));
    };
    let (structure, sheet) = match request.get("settings") {
        Some(_) => (of_settings(&request, kind)?, None),
        None => best(&request)?,
    };
    let body = body(&request, &structure)?;
    let text = |mut text: String| {
        if !text.ends_with('\n') {
            text.push('\n');
        }
        Ok(text.into_bytes())
    };
    match options.format {
        PatternFormat::Fold => text(fold_file(&body.pattern)),
        PatternFormat::Svg => text(pattern_svg(&body.pattern)),
        PatternFormat::Cutter => text(cutter_svg(&body.pattern)),
        PatternFormat::Pdf => pdf(&structure, body, sheet, options),
    }
}

fn pdf(
    structure: &Structure,
    body: &Body,
    sheet: Option<(Length, Length)>,
    options: PatternOptions,
) -> Result<Vec<u8>, CommandError> {
    let Pattern { name, .. } = body.pattern;
    let title = match structure.bodies().count() {
        1 => structure.kind().name().to_owned(),
        _ => format!("{}: {}", structure.kind().name(), body.name),
    };
    let template = Template::of_pattern(&title, "", &body.pattern, sheet);
    let options = PrintOptions {
        paper: options.paper,
        lines: options.lines,
    };
    templates_pdf(name, &[template], options)
        .map_err(|error| CommandError(format!("--paper: {error}")))
}

/// The body asked for; the one that holds the contents if none is.
fn body<'s>(request: &Object<'_>, structure: &'s Structure) -> Result<&'s Body, CommandError> {
    if request.get("body").is_none() {
        return Ok(structure.main());
    }
    let asked = request.text("body", structure.main().name)?;
    structure.body(asked).ok_or_else(|| {
        let known: Vec<&str> = structure.bodies().map(|body| body.name).collect();
        let sentence = format!(
            "{} is no body of the {}. Give {}.",
            Quoted::new(asked),
            structure.kind().name(),
            words(&known)
        );
        wrong("body", sentence)
    })
}

/// The best answer that sizing finds, and the sheet that it is best cut from.
fn best(request: &Object<'_>) -> Result<(Structure, Option<(Length, Length)>), CommandError> {
    let asked = read_request(request)?;
    let best = sized(&asked)?.answers.into_iter().next();
    let best = best.ok_or_else(|| wrong("contents", "nothing fits. Give smaller contents."))?;
    let sheet = asked.sheets.iter().find(|sheet| sheet.name == best.sheet);
    Ok((
        best.structure,
        sheet.map(|sheet| (sheet.width, sheet.height)),
    ))
}

/// What the settings make, if it folds. Contents and sheets are not looked at.
fn of_settings(request: &Object<'_>, kind: StructureKind) -> Result<Structure, CommandError> {
    let tools = read_tools_of_settings(request)?;
    let caliper = request.length("caliper")?;
    let settings = read_settings(request, kind)?;
    let structure = make(settings, &tools, caliper)?;
    match structure.checks(None).iter().find(|check| !check.holds) {
        None => Ok(structure),
        Some(check) => {
            let sentence = format!("the check \"{}\" fails: {}", check.name, check.says);
            Err(wrong("settings", sentence))
        }
    }
}

fn make(settings: Settings, tools: &Tools, caliper: Length) -> Result<Structure, CommandError> {
    Structure::new(settings, tools, caliper).map_err(|error| {
        let field = match error.field() {
            "caliper" => "caliper".to_owned(),
            "tools" => "board".to_owned(),
            setting => format!("settings.{setting}"),
        };
        wrong(&field, &error)
    })
}

/// Settings as `size` writes them: a list of names and lengths.
fn read_settings(request: &Object<'_>, kind: StructureKind) -> Result<Settings, CommandError> {
    let opening = kind.opening().map(|opening| opening.field.name);
    let names: Vec<&str> = kind.fields().iter().map(|field| field.name).collect();
    let all: Vec<&str> = names.iter().copied().chain(opening).collect();
    let mut found: Vec<Option<Length>> = vec![None; all.len()];
    for setting in request.objects("settings", &["name", "at"])? {
        let given = setting.text("name", "sheet")?;
        let place = all.iter().position(|name| *name == given.replace('_', " "));
        let slot = place.and_then(|place| found.get_mut(place));
        let Some(slot) = slot else {
            let sentence = format!(
                "{} is no setting of the {}. Its settings are {}.",
                Quoted::new(given),
                kind.name(),
                all.join(", ")
            );
            return Err(wrong(&setting.at("name"), sentence));
        };
        let at = read_at(&setting)?;
        if slot.replace(at).is_some() {
            let sentence = format!("{} is given twice. Give it once.", Quoted::new(given));
            return Err(wrong(&setting.at("name"), sentence));
        }
    }
    let opening = found.get(names.len()).copied().flatten();
    let lengths = names.iter().zip(found).map(|(name, found)| {
        found.ok_or_else(|| {
            let sentence = format!("the {name} is missing. Give {}.", names.join(", "));
            wrong("settings", sentence)
        })
    });
    let lengths: Vec<Length> = lengths.collect::<Result<_, CommandError>>()?;
    let sentence = format!("Give {}.", names.join(", "));
    let settings = Settings::new(kind, &lengths).ok_or_else(|| wrong("settings", sentence))?;
    Ok(settings.with_opening(opening))
}

/// A length, or one as `size` writes it.
fn read_at(setting: &Object<'_>) -> Result<Length, CommandError> {
    match setting.get("at") {
        Some(value @ Value::Object(_)) => {
            Object::new(value, setting.at("at"), &["text", "mm"])?.length("mm")
        }
        Some(value) => length(value, &setting.at("at")),
        None => setting.length("at"),
    }
}
