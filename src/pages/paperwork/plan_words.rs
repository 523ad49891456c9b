//! What is said of the two cut plans: what the other one costs, what is proven, which sheets.

use tablefold_geometry::Ruler;

use super::counted;
use crate::pages::both::Both;
use crate::workshop::{Currency, PaperPull, PlanCost, PlanPrice};

/// "Least fiddling takes 1 sheet more (0.60) and saves about 4 minutes."
pub(super) fn difference([paper, fiddling]: &[PlanPrice; 2], currency: Currency) -> String {
    let sheets = i64::from(fiddling.sheets) - i64::from(paper.sheets);
    let minutes = i64::from(paper.work.minutes()) - i64::from(fiddling.work.minutes());
    if sheets == 0 && minutes == 0 {
        return "Both plans take the same paper and about the same time.".to_owned();
    }
    let money = fiddling.money.saturating_sub(paper.money);
    let worth = if money > 0 {
        let more = if sheets > 0 { "" } else { " more" };
        format!(" (worth {}{more})", currency.coded_price(money))
    } else {
        String::new()
    };
    let count = sheets.unsigned_abs();
    let takes = match sheets {
        // Other sizes, as many of them.
        0 if money > 0 => format!("as many sheets{worth}"),
        0 => "no more paper".to_owned(),
        1.. => format!("{}{worth}", counted(count, "sheet more", "sheets more")),
        _ => format!("{}{worth}", counted(count, "sheet fewer", "sheets fewer")),
    };
    let saves = match minutes {
        0 => "takes about the same time".to_owned(),
        1.. => {
            let time = counted(minutes.unsigned_abs(), "minute", "minutes");
            format!("saves about {time}")
        }
        _ => {
            let time = counted(minutes.unsigned_abs(), "minute", "minutes");
            format!("costs about {time} more")
        }
    };
    format!("Least fiddling takes {takes} and {saves}.")
}

/// The bound and the gap in words.
fn proof(sheets: u64, bound: u64) -> String {
    let least = counted(bound, "sheet", "sheets");
    match sheets.saturating_sub(bound) {
        0 => format!("No plan can need less than {least}: this is least."),
        gap => format!(
            "No plan can need less than {least}: this is at most {} above the least possible.",
            counted(gap, "sheet", "sheets")
        ),
    }
}

/// Sheets of several sizes don't add up: then each paper says how far it is.
pub(super) fn proof_of_all(sheets: u64, price: &PlanPrice, papers: &[PaperPull]) -> String {
    match price.least_sheets {
        Some(least) => proof(sheets, least),
        None if papers.iter().all(is_least) => {
            "No plan can do with less, paper by paper.".to_owned()
        }
        None => "How far each paper is from the least possible stands beside it.".to_owned(),
    }
}

fn is_least(paper: &PaperPull) -> bool {
    let is_rounded = matches!(
        paper.counts,
        PlanCost::Bought {
            is_exact: false,
            ..
        }
    );
    paper.plans.proven && !is_rounded
}

pub(super) fn proof_of_paper(paper: &PaperPull) -> String {
    let PlanCost::Bought {
        by_price, is_exact, ..
    } = paper.counts
    else {
        return proof(u64::from(paper.sheets()), paper.plans.bound);
    };
    let [now, least] = [paper.plan().cost, paper.plans.bound].map(|it| paper.counts.bought(it));
    let (rule, less) = if by_price {
        ("what is bought costs least", "cost")
    } else {
        ("least paper is bought, as a price is missing", "buy")
    };
    let proven = match (now, now.saturating_sub(least)) {
        (0, _) => "Nothing is bought.".to_owned(),
        _ if !is_exact => "This is the best plan found.".to_owned(),
        (_, 0) if by_price => "No plan can cost less, each sheet at its lowest price.".to_owned(),
        (_, 0) => "No plan can buy less.".to_owned(),
        _ => format!(
            "No plan can {less} less than {} % of this one.",
            u128::from(least) * 100 / u128::from(now)
        ),
    };
    format!("What is on hand is used up before anything is bought, and {rule}. {proven}")
}

/// "3 sheets of 12 × 12 in (≈ 305 × 305 mm)", size by size, with what is bought of it.
pub(super) fn sheets_in_words(paper: &PaperPull, ruler: &Ruler) -> String {
    let is_mixed = paper.sizes.len() > 1;
    let words = paper.taken().map(|(size, take)| {
        let sheets = counted(u64::from(take), "sheet", "sheets");
        let sides = Both::sides(ruler, size.paper.width, size.paper.height);
        let from = match size.buy(take) {
            _ if !is_mixed => String::new(),
            0 => ", on hand".to_owned(),
            buy => format!(", {buy} to buy"),
        };
        format!("{sheets} of {} ({}){from}", sides.own, sides.other)
    });
    words.collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{PlanChoice, packet, plan_now, plan_price};

    #[test]
    fn bound_and_gap_are_told_in_words() {
        insta::assert_snapshot!(proof(15, 15), @"No plan can need less than 15 sheets: this is least.");
        insta::assert_snapshot!(proof(2, 1), @"No plan can need less than 1 sheet: this is at most 1 sheet above the least possible.");
    }

    #[test]
    fn several_sizes_of_a_paper_tell_what_is_bought_and_what_is_proven() {
        let facts = demo::class_of_two_sizes(40);
        let mut packet = packet(&facts, &plan_now).expect("balances");
        let moss = packet.pull.papers.iter_mut().find(|it| it.id == 1);
        let moss = moss.expect("used");
        let ruler = facts.project.trimmer.ruler();
        insta::assert_snapshot!(sheets_in_words(moss, ruler), @"7 sheets of 12 × 12 in (≈ 305 × 305 mm), 3 to buy; 5 sheets of ≈ 8 1/4 × 11 11/16 in (210 × 297 mm), on hand");
        insta::assert_snapshot!(proof_of_paper(moss), @"What is on hand is used up before anything is bought, and what is bought costs least. No plan can cost less, each sheet at its lowest price.");
        let PlanCost::Bought { step, .. } = moss.counts else {
            panic!("{:?}", moss.counts)
        };
        let cost = moss.plans.least_paper.cost;
        let plans = std::sync::Arc::make_mut(&mut moss.plans);
        plans.bound = cost - step;
        insta::assert_snapshot!(proof_of_paper(moss), @"What is on hand is used up before anything is bought, and what is bought costs least. No plan can cost less than 97 % of this one.");
        moss.counts = PlanCost::Bought {
            step,
            by_price: false,
            is_exact: true,
        };
        insta::assert_snapshot!(proof_of_paper(moss), @"What is on hand is used up before anything is bought, and least paper is bought, as a price is missing. No plan can buy less than 97 % of this one.");
        moss.counts = PlanCost::Bought {
            step,
            by_price: true,
            is_exact: false,
        };
        insta::assert_snapshot!(proof_of_paper(moss), @"What is on hand is used up before anything is bought, and what is bought costs least. This is the best plan found.");
        assert!(!is_least(moss));
    }

    #[test]
    fn the_price_of_the_difference_is_money_and_minutes() {
        let facts = demo::class(14);
        let packet = packet(&facts, &plan_now).expect("balances");
        let mut prices = PlanChoice::ALL.map(|choice| plan_price(&packet.pull.papers, choice, 2));
        prices[1] = prices[0];
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Both plans take the same paper and about the same time.");
        prices[1].sheets += 2;
        prices[1].money += 120;
        prices[1].work.set_ups -= 3;
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Least fiddling takes 2 sheets more (worth 1.20) and saves about 3 minutes.");
        prices[1].sheets = prices[0].sheets;
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Least fiddling takes as many sheets (worth 1.20 more) and saves about 3 minutes.");
        prices[1].sheets = prices[0].sheets - 1;
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Least fiddling takes 1 sheet fewer (worth 1.20 more) and saves about 3 minutes.");
        prices[1] = prices[0];
        prices[1].work.set_ups += 1;
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Least fiddling takes no more paper and costs about 1 minute more.");
    }
}
