//! The shopping list: what to buy for least money, shop by shop.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use tablefold_geometry::Ruler;

use super::load;
use super::planning::with_packet;
use crate::app::App;
use crate::error::PageResult;
use crate::forms::spool_text;
use crate::pages::extract::{Path, SignedIn};
use crate::pages::paperwork::{Heading, counted, long};
use crate::pages::{Nav, Page};
use crate::store::class_money;
use crate::urls;
use crate::workshop::{
    Bought, Buying, Currency, Item, Packet, Purchase, PurchaseLine, Quantity, ShopPack,
    ShoppingLine, shopping,
};

#[derive(Template)]
#[template(path = "classes/shopping.html")]
struct ShoppingPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    list: ShoppingList,
}

/// The list as it is printed.
struct ShoppingList {
    shops: Vec<Shop>,
    total: String,
    /// What has no price: name, how much, why, and where to add an offer.
    unpriced: Vec<Unpriced>,
    /// Everything, bought or not: what it is, needed, on hand, left after the class.
    rows: Vec<[String; 4]>,
    /// Taped joints that nothing was chosen for.
    joints: Option<String>,
    /// Purchases that are not proven to cost least.
    unproven: Vec<String>,
}

struct Shop {
    name: String,
    lines: Vec<Line>,
    total: String,
}

struct Line {
    what: String,
    name: String,
    note: String,
    price: String,
}

struct Unpriced {
    name: String,
    amount: String,
    why: &'static str,
    url: String,
}

pub(super) async fn show_shopping(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let bought = class_money::bought(&mut *app.store().read().begin().await?, id).await?;
    with_packet(&app, &loaded, |packet| {
        let page = ShoppingPage {
            nav: Nav::Classes,
            id,
            heading: loaded.heading()?,
            list: list(packet, &bought, app.config().currency),
        };
        Ok(Page::ok(page).into_response())
    })
    .await
}

fn list(packet: &Packet, bought: &Bought, currency: Currency) -> ShoppingList {
    let ruler = &packet.recipe.ruler;
    let lines = shopping(packet, bought);
    let purchases: Vec<(&ShoppingLine, &Purchase)> = lines
        .iter()
        .filter_map(|line| match &line.buying {
            Buying::Buy(purchase) => Some((line, purchase)),
            _ => None,
        })
        .collect();
    let total = purchases
        .iter()
        .map(|(_, purchase)| purchase.price_minor)
        .sum();
    let unproven = purchases
        .iter()
        .filter(|(_, it)| it.bound_minor < it.price_minor);
    ShoppingList {
        shops: shops(&purchases, ruler, currency),
        total: currency.coded_price(total),
        unpriced: lines
            .iter()
            .filter_map(|line| unpriced(line, ruler))
            .collect(),
        rows: lines.iter().map(|line| row(line, ruler)).collect(),
        joints: (bought.adhesive.is_none() && packet.tape_mm > 0.0).then(|| {
            long(
                ruler,
                tablefold_geometry::Length::from_nm((packet.tape_mm * 1e6) as i64),
            )
        }),
        unproven: unproven
            .map(|(line, purchase)| {
                let least = currency.coded_price(purchase.bound_minor);
                format!("{}: no purchase costs less than {least}", line.name)
            })
            .collect(),
    }
}

/// Shops by name, those without a name last.
fn shops(purchases: &[(&ShoppingLine, &Purchase)], ruler: &Ruler, currency: Currency) -> Vec<Shop> {
    let mut names: Vec<&str> = purchases
        .iter()
        .flat_map(|(_, purchase)| &purchase.lines)
        .map(|line| line.offer.shop.as_str())
        .collect();
    names.sort_by_key(|name| (name.is_empty(), name.to_lowercase(), *name));
    names.dedup();
    let shop = |name: &str| {
        let of_shop = purchases.iter().flat_map(|(line, purchase)| {
            let lines = purchase.lines.iter().filter(|it| it.offer.shop == name);
            lines.map(|it| (&line.name, it))
        });
        let bought: Vec<(&String, &PurchaseLine)> = of_shop.collect();
        let total = bought.iter().map(|(_, it)| it.price_minor).sum();
        Shop {
            name: if name.is_empty() {
                "No shop named"
            } else {
                name
            }
            .to_owned(),
            lines: bought
                .iter()
                .map(|(name, it)| line(name, it, ruler, currency))
                .collect(),
            total: currency.coded_price(total),
        }
    };
    names.into_iter().map(shop).collect()
}

fn line(name: &str, bought: &PurchaseLine, ruler: &Ruler, currency: Currency) -> Line {
    let (offer, packs) = (&bought.offer, bought.packs);
    let what = match offer.pack {
        ShopPack::Count(1) => packs.to_string(),
        ShopPack::Count(count) => {
            format!("{} of {count}", counted(packs.into(), "pack", "packs"))
        }
        ShopPack::Spool(length) => {
            let spools = counted(packs.into(), "spool", "spools");
            format!("{spools} of {}", spool_text(ruler, length))
        }
        ShopPack::Metre => format!("{packs} m in one length"),
    };
    let single = offer.price_minor.saturating_mul(packs.into());
    let each = format!("{} each", currency.price(offer.price_minor));
    let note = match offer.multi {
        Some(multi) if bought.price_minor < single => format!(
            "{each}, {} for {}",
            multi.packs,
            currency.price(multi.price_minor)
        ),
        _ if offer.pack == ShopPack::Metre => {
            format!("{} a metre", currency.price(offer.price_minor))
        }
        _ if packs > 1 => each,
        _ => String::new(),
    };
    Line {
        what,
        name: name.to_owned(),
        note,
        price: currency.price(bought.price_minor),
    }
}

fn unpriced(line: &ShoppingLine, ruler: &Ruler) -> Option<Unpriced> {
    let why = match line.buying {
        Buying::NoOffer => "no price is known",
        Buying::TooShort => "no spool on offer is long enough for a piece",
        Buying::TooMany => "more than 10 000 are not worked out",
        Buying::Nothing | Buying::Buy(_) => return None,
    };
    Some(Unpriced {
        name: line.name.clone(),
        amount: quantity(line.need.missing(), ruler),
        why,
        url: match line.item {
            Item::Paper(id) => urls::paper_offers(id),
            Item::Supply(id) => urls::supply_offers(id),
        },
    })
}

/// What it is, needed, on hand, left after the class.
fn row(line: &ShoppingLine, ruler: &Ruler) -> [String; 4] {
    let left = match &line.buying {
        Buying::Buy(purchase) => quantity(purchase.left, ruler),
        Buying::Nothing => quantity(line.need.left_of_shelf(), ruler),
        _ => String::new(),
    };
    [
        line.name.clone(),
        quantity(line.need.used(), ruler),
        quantity(line.need.on_hand(), ruler),
        left,
    ]
}

/// "12", or a length of ribbon in metres or yards.
pub(super) fn quantity(quantity: Quantity, ruler: &Ruler) -> String {
    match quantity {
        Quantity::Count(count) => count.to_string(),
        Quantity::Length(length) => long(ruler, length),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{MultiBuy, Offer, packet, plan_now};

    #[test]
    fn what_is_bought_at_every_shop_adds_up_to_the_total() {
        let packet = packet(&demo::class(14), &plan_now).expect("balances");
        let mut bought = Bought::default();
        for paper in 1..=7 {
            let offer = Offer {
                shop: if paper % 2 == 0 { "Paper stall" } else { "" }.to_owned(),
                multi: Some(MultiBuy {
                    packs: 2,
                    price_minor: 100,
                }),
                ..Offer::single(60)
            };
            bought.offers.add(Item::Paper(paper), offer);
        }
        let list = list(&packet, &bought, Currency::NONE);
        let minor = |text: &str| Currency::NONE.read_amount(text).expect("an amount");
        let shops: u64 = list.shops.iter().map(|shop| minor(&shop.total)).sum();
        let lines = list.shops.iter().flat_map(|shop| &shop.lines);
        assert_eq!(lines.map(|line| minor(&line.price)).sum::<u64>(), shops);
        assert_eq!(minor(&list.total), shops);
        let names: Vec<_> = list.shops.iter().map(|shop| shop.name.as_str()).collect();
        assert_eq!(names, ["Paper stall", "No shop named"]);
        assert!(list.unpriced.iter().any(|it| it.name == "Jute ribbon"));
        assert!(list.joints.is_some());
    }

    #[test]
    fn a_pack_is_named_as_the_shop_sells_it() {
        let bought = |pack, packs| PurchaseLine {
            offer: Offer {
                pack,
                ..Offer::single(120)
            },
            packs,
            price_minor: 120 * u64::from(packs),
        };
        let said = |pack, packs| {
            let line = line(
                "Jute ribbon",
                &bought(pack, packs),
                &Ruler::millimetre(),
                Currency::NONE,
            );
            format!("{} {}", line.what, line.note)
        };
        let spool = ShopPack::Spool(tablefold_geometry::Length::from_mm(10_000));
        assert_eq!(said(spool, 2), "2 spools of 10 m 1.20 each");
        assert_eq!(said(ShopPack::Count(10), 1), "1 pack of 10 ");
        assert_eq!(said(ShopPack::Metre, 3), "3 m in one length 1.20 a metre");
    }
}
