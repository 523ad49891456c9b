//! What `size` and `pattern` read: contents, tools and sheets.

use serde_json::Value;
use tablefold_geometry::{
    BoardError, Contents, Length, PunchBoard, Quoted, Ruler, RulerError, SizingRequest, Stock,
    StructureKind, Tools, Trimmer, Unit,
};

use super::CommandError;
use super::fit::read_fit;
use super::json::{Object, quote, wrong};

/// The fields of a request.
pub(super) const FIELDS: [&str; 13] = [
    "contents",
    "structure",
    "clearance",
    "play",
    "lid",
    "window",
    "slot",
    "caliper",
    "board",
    "score",
    "trimmer",
    "sheets",
    "makes",
];

/// Prices are kept in ten-thousandths: whole numbers, whatever the money.
pub(super) const PRICE_PARTS: f64 = 10_000.0;

/// The question in a request.
pub(super) fn read_request(request: &Object<'_>) -> Result<SizingRequest, CommandError> {
    let structure = read_structure(request)?;
    Ok(SizingRequest {
        contents: read_contents(request)?,
        structure,
        clearance: request.length("clearance")?,
        fit: read_fit(request, structure)?,
        caliper: request.length("caliper")?,
        tools: read_tools(request)?,
        sheets: read_sheets(request)?,
        makes: request.whole("makes")?,
    })
}

fn read_contents(request: &Object<'_>) -> Result<Contents, CommandError> {
    const ALL: [&str; 7] = [
        "shape",
        "width",
        "depth",
        "height",
        "diameter",
        "each_thickness",
        "count",
    ];
    let shape = request.object("contents", &ALL)?;
    let named = shape.text("shape", "block")?;
    let again = |known: &[&str]| request.object("contents", known);
    Ok(match named {
        "block" => {
            let block = again(&["shape", "width", "depth", "height"])?;
            Contents::Block {
                width: block.length("width")?,
                depth: block.length("depth")?,
                height: block.length("height")?,
            }
        }
        "cylinder" => {
            let cylinder = again(&["shape", "diameter", "height"])?;
            Contents::Cylinder {
                diameter: cylinder.length("diameter")?,
                height: cylinder.length("height")?,
            }
        }
        "ball" => Contents::Ball {
            diameter: again(&["shape", "diameter"])?.length("diameter")?,
        },
        "stack" => {
            let stack = again(&["shape", "width", "height", "each_thickness", "count"])?;
            Contents::Stack {
                width: stack.length("width")?,
                height: stack.length("height")?,
                each_thickness: stack.length("each_thickness")?,
                count: stack.whole("count")?,
            }
        }
        other => {
            let sentence = format!(
                "{} is no shape. Give \"block\", \"cylinder\", \"ball\" or \"stack\".",
                Quoted::new(other)
            );
            return Err(wrong(&shape.at("shape"), sentence));
        }
    })
}

/// The structures to choose from, in words.
pub(super) fn known_structures() -> String {
    let all = StructureKind::all().iter();
    words(&all.map(|kind| kind.slug()).collect::<Vec<_>>())
}

/// "a", "a or b", "a, b or c".
pub(super) fn words(all: &[&str]) -> String {
    match all {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        _ => all.concat(),
    }
}

/// The structure named, if one is.
pub(super) fn read_structure(request: &Object<'_>) -> Result<Option<StructureKind>, CommandError> {
    let Some(value) = request.get("structure") else {
        return Ok(None);
    };
    let found = value.as_str().and_then(StructureKind::find);
    found.map(Some).ok_or_else(|| {
        let sentence = format!(
            "{} is no structure. Give {}, or null for all.",
            quote(value),
            known_structures()
        );
        wrong("structure", sentence)
    })
}

/// The tools. Without a score board, scores are set on the trimmer's ruler; without a punch board
/// the structures that are punched are refused by name.
fn read_tools(request: &Object<'_>) -> Result<Tools, CommandError> {
    let trimmer = read_trimmer(request)?;
    read_tools_beside(request, *trimmer.ruler())
}

/// The tools of explicit settings: without a trimmer, any tenth of a millimetre.
pub(super) fn read_tools_of_settings(request: &Object<'_>) -> Result<Tools, CommandError> {
    if request.get("trimmer").is_some() {
        return read_tools(request);
    }
    let tenth = Length::from_nm(100_000);
    let any = Ruler::new(Unit::Millimetre, tenth, Length::ZERO, Length::MAX);
    read_tools_beside(request, any.map_err(|error| wrong("trimmer.step", error))?)
}

fn read_tools_beside(request: &Object<'_>, trimmer: Ruler) -> Result<Tools, CommandError> {
    let board = request.get("board").map(|_| read_board(request));
    let score = request.get("score").map(|_| read_score(request));
    Ok(Tools {
        punch_board: board.transpose()?,
        score: Some(score.transpose()?.unwrap_or(trimmer)),
        trimmer,
    })
}

/// The score board's ruler.
fn read_score(request: &Object<'_>) -> Result<Ruler, CommandError> {
    let score = request.object("score", &["step", "longest"])?;
    let (step, longest) = (score.length("step")?, score.length("longest")?);
    Ruler::new(unit_of(step), step, Length::ZERO, longest).map_err(|error| {
        let field = match error {
            RulerError::NoMarks { .. } | RulerError::Reach { .. } => "score.longest",
            _ => "score.step",
        };
        wrong(field, error)
    })
}

/// The punch board.
fn read_board(request: &Object<'_>) -> Result<PunchBoard, CommandError> {
    let board = request.object("board", &["notch_depth", "step", "shortest", "longest"])?;
    let notch_depth = board.length("notch_depth")?;
    let step = board.length("step")?;
    let (shortest, longest) = (board.length("shortest")?, board.length("longest")?);
    let ruler = Ruler::new(unit_of(step), step, shortest, longest).map_err(|error| {
        let field = match error {
            RulerError::NoMarks { .. } | RulerError::Reach { .. } => "board.longest",
            _ => "board.step",
        };
        wrong(field, error)
    })?;
    PunchBoard::new(notch_depth, ruler).map_err(|error| {
        let field = match error {
            BoardError::ShortestInNotch { .. } => "board.shortest",
            _ => "board.notch_depth",
        };
        wrong(field, error)
    })
}

/// The trimmer; it cuts as far as the sheets reach.
fn read_trimmer(request: &Object<'_>) -> Result<Trimmer, CommandError> {
    let step = request.object("trimmer", &["step"])?.length("step")?;
    let ruler = Ruler::new(unit_of(step), step, Length::ZERO, Length::MAX);
    let ruler = ruler.map_err(|error| wrong("trimmer.step", error))?;
    Ok(Trimmer::new(ruler))
}

fn read_sheets(request: &Object<'_>) -> Result<Vec<Stock>, CommandError> {
    let sheets = request.objects("sheets", &["name", "width", "height", "price"])?;
    let read = |sheet: &Object<'_>| {
        Ok(Stock {
            name: sheet.text("name", "A4")?.to_owned(),
            width: sheet.length("width")?,
            height: sheet.length("height")?,
            price: sheet
                .get("price")
                .map(|price| read_price(price, sheet))
                .transpose()?,
            turnable: true,
        })
    };
    sheets.iter().map(read).collect()
}

fn read_price(value: &Value, sheet: &Object<'_>) -> Result<u64, CommandError> {
    let parts = value.as_f64().map(|price| price * PRICE_PARTS);
    // Below 2 to the 53rd every whole number is exact.
    let fits = |parts: &f64| (0.0..9e15).contains(parts) && (parts - parts.round()).abs() < 1e-3;
    parts.filter(fits).map(|parts| parts.round() as u64).ok_or_else(|| {
        let sentence = format!(
            "{} is no price. Give a number of 0 or more with up to 4 decimals, such as 0.45, or null.",
            quote(value)
        );
        wrong(&sheet.at("price"), sentence)
    })
}

/// The unit that a ruler with this step is read in: inches where the step is a usual fraction of
/// an inch or whole inches, else millimetres.
fn unit_of(step: Length) -> Unit {
    let inch = Unit::Inch.nm();
    let step = step.nm().max(1);
    let fraction = inch % step == 0 && inch / step <= 64;
    if fraction || step % inch == 0 {
        Unit::Inch
    } else {
        Unit::Millimetre
    }
}
