//! Settings that an instructor chose in place of the computed ones.

use tablefold_geometry::{
    AxisMap, Laden, Length, Settings, SizingRequest, Structure, blanks_per_sheet, yields,
};

use super::made::{Sized, Wrong, is_opening};

/// What settings chosen by hand come to: on the rulers, folding, with room for the contents.
pub(super) fn sized(request: &SizingRequest, settings: Settings) -> Result<Sized, Wrong> {
    let wrong = |message: String| ("settings", message);
    let settings = settings.with_opening(request.fit.opening(settings.kind()));
    let made = Structure::new(settings, &request.tools, request.caliper);
    let made = made.map_err(|error| match is_opening(request, &error) {
        true => (error.field(), error.to_string()),
        false => wrong(error.to_string()),
    })?;
    let structure = made.laden(request.laden());
    on_the_trimmer(request, &structure).map_err(wrong)?;
    let axes = room(request, &structure).map_err(wrong)?;
    let pattern = structure.pattern().clone();
    // What lies in a card takes of its play in the envelope, as what is stuck on it does.
    let laid_in = match structure.kind().has_depth() {
        true => Length::ZERO,
        false => thinnest(request),
    };
    let load = structure.load();
    let taken = Laden {
        stuck_on: load.stuck_on + laid_in,
        ..load
    };
    let checks = structure.clone().laden(taken).checks(None);
    if let Some(check) = checks.iter().find(|check| !check.holds) {
        return Err(wrong(check.says.clone()));
    }
    let (per_sheet, best_sheet) = yields(&request.sheets, &structure.blanks(), request.makes)
        .ok_or_else(|| wrong(no_sheet(request, &structure)))?;
    Ok(Sized {
        structure,
        pattern,
        checks,
        axes,
        per_sheet,
        best_sheet: Some(best_sheet),
        break_points: Vec::new(),
    })
}

fn thinnest(request: &SizingRequest) -> Length {
    let axes = request.contents.axes().into_iter().flatten();
    axes.map(|(_, extent)| extent).min().unwrap_or_default()
}

/// Whether each side of each sheet is a mark of the trimmer.
fn on_the_trimmer(request: &SizingRequest, structure: &Structure) -> Result<(), String> {
    let ruler = &request.tools.trimmer;
    let blanks = structure.blanks();
    let mut sides = blanks.iter().flat_map(|(width, height)| [*width, *height]);
    let Some(side) = sides.find(|side| !ruler.has(*side)) else {
        return Ok(());
    };
    let near = |mark: Option<Length>| mark.map(|mark| ruler.text(mark));
    let marks: Vec<String> = [near(ruler.down(side.mm())), near(ruler.up(side.mm()))]
        .into_iter()
        .flatten()
        .collect();
    Err(format!(
        "A sheet of {} is not on the trimmer's ruler. The nearest marks are {}.",
        ruler.text_or_exact(side),
        marks.join(" and ")
    ))
}

fn no_sheet(request: &SizingRequest, structure: &Structure) -> String {
    let ruler = &request.tools.trimmer;
    let holds = |blank: &(Length, Length)| {
        let mut sheets = request.sheets.iter();
        sheets.any(|sheet| blanks_per_sheet(sheet, blank.0, blank.1) > 0)
    };
    let blanks = structure.blanks();
    let blank = blanks.iter().find(|blank| !holds(blank)).or(blanks.first());
    let (width, height) = blank.copied().unwrap_or_default();
    let what = if width == height {
        format!("a square of {}", ruler.text(width))
    } else {
        format!("a sheet of {} by {}", ruler.text(width), ruler.text(height))
    };
    format!("No sheet of this paper holds {what}. Choose a smaller one.")
}

/// How the contents with their play lie inside, longest along longest; or that they do not fit.
fn room(request: &SizingRequest, structure: &Structure) -> Result<AxisMap, String> {
    let Some(mut contents) = request.contents.axes() else {
        return Err("The contents are too large to be a length.".to_owned());
    };
    contents.sort_by_key(|(_, extent)| *extent);
    let mut need = contents.map(|(_, extent)| (extent + request.clearance).mm());
    if !structure.kind().has_depth() {
        // What is thick takes as much from width and height; the play in depth is free.
        need[0] = contents[0].1.mm();
    }
    let inside = structure.inside_for(need[0]);
    let mut have = [
        ("width", inside.width),
        ("length", inside.length),
        ("depth", inside.depth),
    ];
    have.sort_by(|a, b| a.1.total_cmp(&b.1));
    let short = need
        .iter()
        .zip(have)
        .map(|(need, have)| need - have.1)
        .fold(0.0, f64::max);
    if short > 1e-9 {
        return Err(format!(
            "With these settings the contents lack {} of room. Choose larger settings, or less clearance.",
            request.tools.main_ruler().text_mm(short)
        ));
    }
    let along = |axis: &str| {
        let place = have.iter().position(|(name, _)| *name == axis).unwrap_or(0);
        contents[place].0
    };
    Ok(AxisMap {
        width: along("width"),
        length: along("length"),
        depth: along("depth"),
    })
}
