//! What a class costs and earns, in words and figures.

use tablefold_geometry::Ruler;

use super::shopping::quantity;
use crate::workshop::{Amount, Bought, BreakEven, ClassFacts, Cost, Currency};

/// Everything that the page shows.
pub(super) struct CostView {
    /// "at least; " where a price is missing.
    pub(super) at_least: &'static str,
    pub(super) unpriced: String,
    pub(super) attendees: usize,
    pub(super) kit: String,
    pub(super) total: String,
    pub(super) spent: String,
    /// Income less costs: figure, a word, whether it is a loss.
    pub(super) result: Option<(String, &'static str, bool)>,
    /// Figure or word, a note, and whether it is a word.
    pub(super) break_even: (String, &'static str, bool),
    pub(super) covering_fee: String,
    pub(super) margin_fee: Option<(u32, String)>,
    /// A kit of each colourway: name, kits, paper, rest, kit.
    pub(super) kits: Vec<[String; 5]>,
    /// What the class costs: what, how much of it, figure.
    pub(super) rows: Vec<[String; 3]>,
    /// Prep and class.
    pub(super) planned_minutes: u32,
}

impl CostView {
    /// The view of a cost.
    pub(super) fn of(
        facts: &ClassFacts,
        bought: &Bought,
        cost: &Cost,
        (ruler, currency): (&Ruler, Currency),
    ) -> Self {
        let amount = |amount: &Amount| currency.amount(amount);
        let fee = |minor: i64| currency.coded_price(u64::try_from(minor).unwrap_or(0));
        let zero = Amount::default();
        Self {
            at_least: if cost.unpriced.is_empty() {
                ""
            } else {
                "at least; "
            },
            unpriced: cost.unpriced.join(", "),
            attendees: facts.attendees.len(),
            kit: amount(&cost.mean_kit),
            total: amount(&cost.total),
            spent: amount(&cost.spent),
            result: cost.result.as_ref().map(|result| {
                let word = if *result < zero { "short" } else { "stays" };
                (amount(result), word, *result < zero)
            }),
            break_even: match cost.break_even {
                BreakEven::NoFee => (
                    "Type a fee".to_owned(),
                    "to see from how many attendees on it pays",
                    true,
                ),
                BreakEven::Never => ("Never".to_owned(), "a kit costs as much as the fee", true),
                BreakEven::At(1) => ("1".to_owned(), "attendee", false),
                BreakEven::At(attendees) => (attendees.to_string(), "attendees", false),
            },
            covering_fee: fee(cost.covering_fee),
            margin_fee: bought.money.margin.zip(cost.margin_fee.map(fee)),
            kits: kits(cost, currency),
            rows: rows(cost, (ruler, currency)),
            planned_minutes: cost.planned_minutes,
        }
    }
}

fn kits(cost: &Cost, currency: Currency) -> Vec<[String; 5]> {
    let text = |amount: &Amount| currency.text(amount.rounded());
    let kit = |kit: &crate::workshop::KitCost| {
        [
            kit.name.clone(),
            kit.kits.to_string(),
            text(&kit.paper),
            text(&kit.rest),
            text(&kit.kit()),
        ]
    };
    cost.kits.iter().map(kit).collect()
}

fn rows(cost: &Cost, (ruler, currency): (&Ruler, Currency)) -> Vec<[String; 3]> {
    let text = |amount: &Amount| currency.text(amount.rounded());
    let material = |it: &crate::workshop::MaterialCost| {
        let figure = it.cost.as_ref().map_or_else(|| "no price".to_owned(), text);
        [it.name.clone(), quantity(it.used, ruler), figure]
    };
    let mut rows: Vec<[String; 3]> = cost.materials.iter().map(material).collect();
    let zero = Amount::default();
    if cost.venue > zero {
        rows.push(["Venue".to_owned(), String::new(), text(&cost.venue)]);
    }
    if cost.time > zero {
        let minutes = format!("{} min", cost.own_minutes);
        rows.push(["Your time".to_owned(), minutes, text(&cost.time)]);
    }
    rows
}
