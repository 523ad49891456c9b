//! What the planner is asked to reach, line by line, against what it reached.

#![expect(clippy::print_stdout, reason = "a bench reports on the terminal")]

use super::Row;

/// One line: met or not, and the figures.
fn line(met: bool, what: &str, figures: &str) {
    let met = if met { "met    " } else { "NOT MET" };
    println!("{met}  {what}: {figures}");
}

fn average(all: impl Iterator<Item = f64>) -> f64 {
    let all: Vec<f64> = all.collect();
    all.iter().sum::<f64>() / all.len().max(1) as f64
}

fn most(all: impl Iterator<Item = f64>) -> f64 {
    all.fold(0.0, f64::max)
}

fn count<'r>(rows: &[&'r Row], of: impl Fn(&'r Row) -> bool) -> usize {
    rows.iter().filter(|row| of(row)).count()
}

pub(crate) fn report(rows: &[Row]) {
    let group = |name: &str| -> Vec<&Row> {
        let of_group = rows.iter().filter(|row| row.name.starts_with(name));
        of_group.collect()
    };
    println!();
    bounds(&rows.iter().collect::<Vec<_>>());
    for (name, check) in [
        ("class", class as fn(&[&Row])),
        ("vs-", gcut),
        ("g1-", single),
        ("atp", atp),
        ("ind", industry),
    ] {
        let rows = group(name);
        if !rows.is_empty() {
            check(&rows);
        }
    }
}

fn bounds(rows: &[&Row]) {
    let known: Vec<&&Row> = rows
        .iter()
        .filter(|row| row.known.bound.is_some())
        .collect();
    let below = known
        .iter()
        .filter(|row| row.known.bound > Some(row.bound as f64));
    let below = below.count();
    let above = known
        .iter()
        .filter(|row| row.known.bound < Some(row.bound as f64));
    let (all, above) = (known.len(), above.count());
    line(
        below == 0,
        "bound at least the known one where that converged",
        &format!(
            "{all} rows, {} equal, {above} higher, {below} lower",
            all - above - below
        ),
    );
}

fn class(rows: &[&Row]) {
    let all = rows.len();
    let slowest = most(rows.iter().map(|row| row.lp_ms));
    line(
        slowest <= 50.0,
        "linear program of a class in 50 ms",
        &format!("slowest {slowest:.0} ms"),
    );
    let near = |row: &Row| {
        let over = row.quick.cost.saturating_sub(row.bound) as f64;
        over <= 0.01 * row.bound as f64 || over <= row.cheapest as f64
    };
    let near = count(rows, near);
    let slowest = most(rows.iter().map(|row| row.quick.seconds));
    line(
        near == all && slowest <= 0.5,
        "class within 1 % or one sheet in 0.5 s",
        &format!("{near} of {all}, slowest {slowest:.2} s"),
    );
    let best = count(rows, |row| row.known.best >= Some(row.thorough.cost as f64));
    let slowest = most(rows.iter().map(|row| row.thorough.seconds));
    line(
        best == all && slowest <= 5.0,
        "class at the best known in 5 s",
        &format!("{best} of {all}, slowest {slowest:.2} s"),
    );
    for (name, value) in [("class-11", 1710), ("class-01", 1990)] {
        for row in rows.iter().filter(|row| row.name.starts_with(name)) {
            let (cost, bound) = (row.thorough.cost, row.bound);
            let beaten = if name == "class-11" {
                cost < value
            } else {
                cost <= value
            };
            let what = format!("{name} beats the best known or proves it least");
            line(
                beaten || cost == bound,
                &what,
                &format!("cost {cost}, bound {bound}"),
            );
        }
    }
    fewer_patterns(rows);
}

/// Against the cheapest plan as the search found it, and against one of the same cost that was
/// already tidied.
fn fewer_patterns(rows: &[&Row]) {
    for (effort, of) in [
        ("quick", (|row| &row.quick) as fn(&Row) -> &super::Outcome),
        ("thorough", |row| &row.thorough),
    ] {
        let outcomes = || rows.iter().map(|row| of(row));
        let found = average(outcomes().map(|of| of.fewer_percent(of.found)));
        let tidied = average(outcomes().map(|of| of.fewer_percent(of.paper.0)));
        for (than, fewer) in [("as found", found), ("tidied at the same cost", tidied)] {
            line(
                fewer >= 30.0,
                &format!(
                    "30 % fewer patterns for 1 % or one cheapest sheet, {effort}, than {than}"
                ),
                &format!("{fewer:.1} % on average"),
            );
        }
    }
}

fn gcut(rows: &[&Row]) {
    let gap = |row: &&Row| row.gap_percent(&row.thorough);
    let (middle, worst) = (average(rows.iter().map(gap)), most(rows.iter().map(gap)));
    let slowest = most(rows.iter().map(|row| row.thorough.seconds));
    line(
        middle <= 0.10 && worst <= 0.5 && slowest <= 10.0,
        "three sheet sizes: gap 0.10 % on average, 0.5 % at worst in 10 s",
        &format!("{middle:.3} %, {worst:.3} %, slowest {slowest:.2} s"),
    );
}

fn single(rows: &[&Row]) {
    let at = count(rows, |row| {
        row.known.published >= Some(row.thorough.cost as f64)
    });
    line(
        at == rows.len(),
        "one sheet size: at the published value",
        &format!("{at} of {}", rows.len()),
    );
}

fn atp(rows: &[&Row]) {
    let over = |row: &Row| row.quick.cost as f64 - row.known.published.unwrap_or(0.0);
    let equal = count(rows, |row| over(row) <= 0.0);
    let worst = most(rows.iter().map(|row| over(row)));
    let slowest = most(rows.iter().map(|row| row.quick.seconds));
    line(
        worst <= 1.0 && 2 * equal > rows.len() && slowest <= 1.0,
        "few sheets of many sizes: most at the best, none more than one above in 1 s",
        &format!(
            "{equal} of {} at the best, worst {worst:.0} above, slowest {slowest:.2} s",
            rows.len()
        ),
    );
}

fn industry(rows: &[&Row]) {
    let proven: Vec<&Row> = rows
        .iter()
        .copied()
        .filter(|row| row.known.optimal)
        .collect();
    let at = count(&proven, |row| {
        row.known.published == Some(row.thorough.cost as f64)
    });
    let slowest = most(proven.iter().map(|row| row.thorough.seconds));
    line(
        at + 1 >= proven.len() && slowest <= 5.0,
        "orders of furniture makers: at the proven optimum in 5 s",
        &format!("{at} of {}, slowest {slowest:.2} s", proven.len()),
    );
}
