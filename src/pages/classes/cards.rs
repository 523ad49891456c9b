//! Step cards to print: 1, 2 or 4 to a page, cut apart along the marks.

use askama::Template;
use axum::extract::{RawQuery, State};
use axum::response::Response;

use super::packet::printed;
use crate::app::App;
use crate::error::PageResult;
use crate::pages::Nav;
use crate::pages::extract::{Path, SignedIn};
use crate::pages::looks::{Look, looks};
use crate::pages::paperwork::{Heading, StepCard, samples, step_cards};
use crate::pages::picture::LegendLine;
use crate::pages::picture_sizes::on_card;
use crate::pages::published::View;
use crate::urls;

/// How many go on a page, the usual first.
const LAYOUTS: [usize; 3] = [2, 1, 4];

/// More text than that leaves no room for a picture on a part of a page.
const MOST_LETTERS: usize = 400;

#[derive(Template)]
#[template(path = "classes/cards.html")]
struct CardsPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    pages: Vec<CardPage>,
    samples: Vec<LegendLine>,
    per_page: usize,
    view: View,
    /// How many to a page instead, and where that is.
    layouts: Vec<(usize, String)>,
    looks: Vec<Look>,
}

/// Cards that share a page.
struct CardPage {
    /// In so many parts.
    parts: usize,
    /// Whether it is the page of one card with much text.
    is_long: bool,
    cards: Vec<StepCard>,
}

/// Cards in their order, so many to a page; one with much text has a page of its own.
fn pages(cards: Vec<StepCard>, per_page: usize) -> Vec<CardPage> {
    let mut pages: Vec<CardPage> = Vec::new();
    for card in cards {
        let is_long = card.letters() > MOST_LETTERS;
        match pages.last_mut() {
            Some(page) if !is_long && !page.is_long && page.cards.len() < per_page => {
                page.cards.push(card);
            }
            _ => pages.push(CardPage {
                parts: if is_long { 1 } else { per_page },
                is_long,
                cards: vec![card],
            }),
        }
    }
    pages
}

pub(super) async fn show_cards(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    RawQuery(query): RawQuery,
) -> PageResult<Response> {
    let query = query.unwrap_or_default();
    let view = View::of_query(&query).unwrap_or_default();
    let per_page = per_page(&query, view);
    printed(&app, id, |loaded, heading, packet| {
        let size = on_card(per_page, view.large);
        let cards = step_cards(&loaded.facts, packet, view, size);
        let address = |view: View, count| urls::class_cards_as(id, count, &view.query());
        let others = layouts(view).iter().filter(|count| **count != per_page);
        CardsPage {
            nav: Nav::Classes,
            id,
            heading,
            samples: samples(&cards),
            pages: pages(cards, per_page),
            per_page,
            view,
            layouts: others.map(|&count| (count, address(view, count))).collect(),
            looks: looks(view, packet.recipe.ruler_of(None).unit(), &|view| {
                address(view, per_page)
            }),
        }
    })
    .await
}

/// Large print leaves no room for a picture on a quarter of a page.
fn layouts(view: View) -> &'static [usize] {
    if view.large { &LAYOUTS[..2] } else { &LAYOUTS }
}

fn per_page(query: &str, view: View) -> usize {
    let asked = query
        .split('&')
        .find_map(|pair| pair.strip_prefix("per_page=")?.parse().ok());
    let offered = asked.filter(|count| layouts(view).contains(count));
    offered.unwrap_or(LAYOUTS[0])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_layout_that_is_not_offered_is_the_usual_one() {
        for (query, expected) in [
            ("", 2),
            ("per_page=4", 4),
            ("units=own&per_page=1", 1),
            ("per_page=3", 2),
            ("per_page=-1", 2),
            ("per_page=", 2),
        ] {
            assert_eq!(per_page(query, View::default()), expected, "{query}");
        }
        let large = View {
            large: true,
            ..View::default()
        };
        assert_eq!(per_page("per_page=4", large), 2);
    }
}
