//! `tablefold cuts`: from parts and sheets to a cut plan, JSON in, JSON out.

use std::collections::HashSet;
use std::ops::ControlFlow;

use clap::{Args, ValueEnum};
use serde::Serialize;
use tablefold_geometry::{
    CutDirection, CutError, CutJob, CutPart, CutPlans, CutStock, Effort, Length, Plan, Progress,
    Quoted, plan_cuts,
};

use super::CommandError;
use super::json::{Object, length, parse, quote, wrong};

const FIELDS: [&str; 6] = ["name", "unit", "stock", "parts", "kerf", "max_stages"];
const STOCK_FIELDS: [&str; 5] = ["name", "width", "height", "cost", "available"];
const PART_FIELDS: [&str; 5] = ["name", "width", "height", "quantity", "turnable"];

/// How hard to look for a better plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum CutEffort {
    /// About half a second
    Quick,
    /// About five seconds
    Thorough,
}

/// Which of the two plans is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WhichPlan {
    /// The cheapest plan found
    LeastPaper,
    /// Few patterns and fence settings, for at most 1 % or one sheet more
    LeastFiddling,
}

/// Options of `tablefold cuts`.
#[derive(Clone, Copy, Debug, Args)]
pub struct CutOptions {
    /// How hard to look; the answer is the same on every machine
    #[arg(long, value_enum, default_value_t = CutEffort::Thorough)]
    pub effort: CutEffort,
    /// Which plan to write
    #[arg(long, value_enum, default_value_t = WhichPlan::LeastPaper)]
    pub plan: WhichPlan,
}

/// Answers a request; the answer ends with a line break. `report` hears how far the work is.
///
/// # Errors
/// One line that names the field, quotes the value and says what would do.
pub fn cuts_command(
    text: &str,
    options: CutOptions,
    report: &mut dyn FnMut(&Progress),
) -> Result<String, CommandError> {
    let value = parse(text)?;
    let job = read_job(&Object::root(&value, &FIELDS)?)?;
    let effort = match options.effort {
        CutEffort::Quick => Effort::quick(),
        CutEffort::Thorough => Effort::thorough(),
    };
    let mut report = |progress: &Progress| {
        report(progress);
        ControlFlow::Continue(())
    };
    let plans = plan_cuts(&job, &effort, &mut report);
    let plans = plans.map_err(|error| refused(&job, &error))?;
    let plan = match options.plan {
        WhichPlan::LeastPaper => &plans.least_paper,
        WhichPlan::LeastFiddling => &plans.least_fiddling,
    };
    let json = serde_json::to_string_pretty(&CutsOutput::new(&job, &plans, plan));
    let json =
        json.map_err(|error| CommandError(format!("The answer cannot be written: {error}")))?;
    Ok(json + "\n")
}

fn read_job(request: &Object<'_>) -> Result<CutJob, CommandError> {
    if request.get("name").is_some() {
        request.text("name", "tags")?;
    }
    if let Some(unit) = request.get("unit").filter(|unit| *unit != "mm") {
        let sentence = format!(
            "{} is no unit here. Give \"mm\"; inches go into the lengths, such as \"5 1/4 in\".",
            quote(unit)
        );
        return Err(wrong("unit", sentence));
    }
    let stock = read_stock(request)?;
    let parts = read_parts(request)?;
    let kerf = match request.get("kerf") {
        Some(value) => length(value, "kerf")?,
        None => Length::ZERO,
    };
    let stages = read_stages(request)?;
    let names = |error: &CutError| {
        let stock: Vec<&str> = stock.iter().map(|sheet| sheet.name.as_str()).collect();
        let parts: Vec<&str> = parts.iter().map(|part| part.name.as_str()).collect();
        field_of(error, &stock, &parts)
    };
    let job = CutJob::new(stock.clone(), parts.clone(), kerf, stages);
    job.map_err(|error| wrong(&names(&error), &error))
}

fn read_stock(request: &Object<'_>) -> Result<Vec<CutStock>, CommandError> {
    let read = |sheet: &Object<'_>| {
        Ok(CutStock {
            name: sheet.text("name", "A4")?.to_owned(),
            width: sheet.length("width")?,
            height: sheet.length("height")?,
            cost: read_cost(sheet)?,
            available: sheet
                .get("available")
                .map(|_| sheet.whole("available"))
                .transpose()?,
        })
    };
    let objects = request.objects("stock", &STOCK_FIELDS)?;
    let stock: Vec<CutStock> = objects.iter().map(read).collect::<Result<_, _>>()?;
    own_names("stock", "sheets", stock.iter().map(|sheet| &sheet.name))?;
    Ok(stock)
}

fn read_parts(request: &Object<'_>) -> Result<Vec<CutPart>, CommandError> {
    let read = |part: &Object<'_>| {
        Ok(CutPart {
            name: part.text("name", "tag")?.to_owned(),
            width: part.length("width")?,
            height: part.length("height")?,
            quantity: part.whole("quantity")?,
            turnable: read_turnable(part)?,
        })
    };
    let objects = request.objects("parts", &PART_FIELDS)?;
    let parts: Vec<CutPart> = objects.iter().map(read).collect::<Result<_, _>>()?;
    own_names("parts", "parts", parts.iter().map(|part| &part.name))?;
    Ok(parts)
}

/// The answer tells sheets and parts by name.
fn own_names<'n>(
    field: &str,
    what: &str,
    names: impl Iterator<Item = &'n String>,
) -> Result<(), CommandError> {
    let mut seen = HashSet::new();
    for (index, name) in names.enumerate() {
        if !seen.insert(name) {
            let sentence = format!(
                "{} names two {what}. Give each its own name.",
                Quoted::new(name)
            );
            return Err(wrong(&format!("{field}[{index}].name"), sentence));
        }
    }
    Ok(())
}

fn read_cost(sheet: &Object<'_>) -> Result<u64, CommandError> {
    let would_do = "a whole number of the smallest coin, such as 45, or 1 to count sheets";
    let Some(value) = sheet.get("cost") else {
        return Err(wrong(
            &sheet.at("cost"),
            format!("nothing is given. Give {would_do}."),
        ));
    };
    value.as_u64().ok_or_else(|| {
        let sentence = format!("{} is no price. Give {would_do}.", quote(value));
        wrong(&sheet.at("cost"), sentence)
    })
}

fn read_turnable(part: &Object<'_>) -> Result<bool, CommandError> {
    let would_do = "true, or false where print or grain forbids it";
    let Some(value) = part.get("turnable") else {
        return Err(wrong(
            &part.at("turnable"),
            format!("nothing is given. Give {would_do}."),
        ));
    };
    value.as_bool().ok_or_else(|| {
        let sentence = format!("{} is no answer. Give {would_do}.", quote(value));
        wrong(&part.at("turnable"), sentence)
    })
}

fn read_stages(request: &Object<'_>) -> Result<Option<u8>, CommandError> {
    let Some(value) = request.get("max_stages") else {
        return Ok(None);
    };
    let number = value.as_u64().and_then(|number| u8::try_from(number).ok());
    number.map(Some).ok_or_else(|| {
        let sentence = format!(
            "{} is no number of phases. Give 1, 2 or 3, or null for any number.",
            quote(value)
        );
        wrong("max_stages", sentence)
    })
}

fn refused(job: &CutJob, error: &CutError) -> CommandError {
    let stock: Vec<&str> = job
        .stock()
        .iter()
        .map(|sheet| sheet.name.as_str())
        .collect();
    let parts: Vec<&str> = job.parts().iter().map(|part| part.name.as_str()).collect();
    wrong(&field_of(error, &stock, &parts), error)
}

/// The field that stands in the way.
fn field_of(error: &CutError, stock: &[&str], parts: &[&str]) -> String {
    let at = |field: &str, names: &[&str], name: &str, inner: &str| {
        let place = names.iter().position(|known| known == &name);
        place.map_or_else(
            || field.to_owned(),
            |place| format!("{field}[{place}]{inner}"),
        )
    };
    match error {
        CutError::NoStock | CutError::TooManyStocks { .. } | CutError::Stopped => "stock".into(),
        CutError::NoParts | CutError::TooManyParts { .. } | CutError::TooManyPieces { .. } => {
            "parts".into()
        }
        CutError::Size { what, side, .. } => {
            let inner = format!(".{side}");
            match what.split_once(' ') {
                Some(("sheet", name)) => at("stock", stock, name, &inner),
                Some((_, name)) => at("parts", parts, name, &inner),
                None => "parts".into(),
            }
        }
        CutError::Cost { stock: name, .. } => at("stock", stock, name, ".cost"),
        CutError::Kerf { .. } => "kerf".into(),
        CutError::Stages { .. } | CutError::NeedsMorePhases { .. } => "max_stages".into(),
        CutError::TooLarge { part, .. } | CutError::TooSmall { part, .. } => {
            at("parts", parts, part, "")
        }
        CutError::TooFewSheets { .. } | CutError::NotFound { .. } => "stock".into(),
    }
}

#[derive(Serialize)]
struct CutsOutput<'j> {
    cost: u64,
    bound: u64,
    proven: bool,
    sheets: Vec<SheetOutput<'j>>,
    settings: usize,
}

/// Sheets that are cut alike.
#[derive(Serialize)]
struct SheetOutput<'j> {
    stock: &'j str,
    count: u32,
    placed: Vec<PlacedOutput<'j>>,
    cuts: Vec<CutOutput>,
}

#[derive(Serialize)]
struct PlacedOutput<'j> {
    part: &'j str,
    x: f64,
    y: f64,
    width: f64,
    height: f64,
    turned: bool,
}

#[derive(Serialize)]
struct CutOutput {
    setting: f64,
    direction: &'static str,
    piece: usize,
    off: usize,
}

impl<'j> CutsOutput<'j> {
    fn new(job: &'j CutJob, plans: &CutPlans, plan: &Plan) -> Self {
        let sheets = plan.sheets.iter().map(|sheets| {
            let placed = sheets.placed.iter().map(|placed| PlacedOutput {
                part: &job.parts()[placed.demand].name,
                x: placed.x.mm(),
                y: placed.y.mm(),
                width: placed.width.mm(),
                height: placed.height.mm(),
                turned: placed.turned,
            });
            let cuts = sheets.cuts.iter().map(|cut| CutOutput {
                setting: cut.setting.mm(),
                direction: match cut.direction {
                    CutDirection::Width => "width",
                    CutDirection::Height => "height",
                },
                piece: cut.piece,
                off: cut.off,
            });
            SheetOutput {
                stock: &job.stock()[sheets.stock].name,
                count: sheets.count,
                placed: placed.collect(),
                cuts: cuts.collect(),
            }
        });
        Self {
            cost: plan.cost,
            bound: plans.bound,
            proven: plan.cost <= plans.bound,
            sheets: sheets.collect(),
            settings: plan.settings(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_refusal_of_a_job_names_its_field() {
        let field = |error: &CutError| field_of(error, &["A4"], &["tag"]);
        let size = |what: &str| CutError::Size {
            what: what.to_owned(),
            side: "height",
            value: Length::ZERO,
        };
        assert_eq!(field(&size("sheet A4")), "stock[0].height");
        assert_eq!(field(&size("part tag")), "parts[0].height");
        assert_eq!(field(&CutError::Stages { value: 9 }), "max_stages");
        let too_few = CutError::TooFewSheets {
            part: "tag".to_owned(),
            short: 1,
            quantity: 2,
        };
        assert_eq!(field(&too_few), "stock");
    }
}
