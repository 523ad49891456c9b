//! Addresses of the bench.

/// GET: tools, rulers, papers, supplies.
#[must_use]
pub fn bench() -> String {
    BENCH.to_owned()
}

/// Pattern of [`bench()`].
pub const BENCH: &str = "/bench";

/// POST: the first tools and the first paper.
#[must_use]
pub fn bench_start() -> String {
    BENCH_START.to_owned()
}

/// Pattern of [`bench_start`].
pub const BENCH_START: &str = "/bench/start";

/// GET: the form for a new tool.
#[must_use]
pub fn new_tool() -> String {
    NEW_TOOL.to_owned()
}

/// Pattern of [`new_tool`].
pub const NEW_TOOL: &str = "/bench/tools/new";

/// POST: a new tool.
#[must_use]
pub fn tools() -> String {
    TOOLS.to_owned()
}

/// Pattern of [`tools`].
pub const TOOLS: &str = "/bench/tools";

/// GET, POST: edit one tool.
#[must_use]
pub fn tool(id: i64) -> String {
    format!("/bench/tools/{id}")
}

/// Pattern of [`tool`].
pub const TOOL: &str = "/bench/tools/{id}";

/// GET, POST: remove one tool.
#[must_use]
pub fn remove_tool(id: i64) -> String {
    format!("/bench/tools/{id}/remove")
}

/// Pattern of [`remove_tool`].
pub const REMOVE_TOOL: &str = "/bench/tools/{id}/remove";

/// GET: the form for a new paper.
#[must_use]
pub fn new_paper() -> String {
    NEW_PAPER.to_owned()
}

/// Pattern of [`new_paper`].
pub const NEW_PAPER: &str = "/bench/papers/new";

/// POST: a new paper.
#[must_use]
pub fn papers() -> String {
    PAPERS.to_owned()
}

/// Pattern of [`papers`].
pub const PAPERS: &str = "/bench/papers";

/// GET, POST: edit one paper.
#[must_use]
pub fn paper(id: i64) -> String {
    format!("/bench/papers/{id}")
}

/// Pattern of [`paper`].
pub const PAPER: &str = "/bench/papers/{id}";

/// GET, POST: remove one paper.
#[must_use]
pub fn remove_paper(id: i64) -> String {
    format!("/bench/papers/{id}/remove")
}

/// Pattern of [`remove_paper`].
pub const REMOVE_PAPER: &str = "/bench/papers/{id}/remove";

/// GET: the form for a new supply.
#[must_use]
pub fn new_supply() -> String {
    NEW_SUPPLY.to_owned()
}

/// Pattern of [`new_supply`].
pub const NEW_SUPPLY: &str = "/bench/supplies/new";

/// POST: a new supply.
#[must_use]
pub fn supplies() -> String {
    SUPPLIES.to_owned()
}

/// Pattern of [`supplies`].
pub const SUPPLIES: &str = "/bench/supplies";

/// GET, POST: edit one supply.
#[must_use]
pub fn supply(id: i64) -> String {
    format!("/bench/supplies/{id}")
}

/// Pattern of [`supply`].
pub const SUPPLY: &str = "/bench/supplies/{id}";

/// GET, POST: remove one supply.
#[must_use]
pub fn remove_supply(id: i64) -> String {
    format!("/bench/supplies/{id}/remove")
}

/// Pattern of [`remove_supply`].
pub const REMOVE_SUPPLY: &str = "/bench/supplies/{id}/remove";

/// POST: work out or apply the notch depth of a punch board.
#[must_use]
pub fn calibrate(id: i64) -> String {
    format!("/bench/tools/{id}/calibrate")
}

/// Pattern of [`calibrate`].
pub const CALIBRATE: &str = "/bench/tools/{id}/calibrate";

/// GET, POST: a new offer for a paper.
#[must_use]
pub fn paper_offers(id: i64) -> String {
    format!("/bench/papers/{id}/offers")
}

/// Pattern of [`paper_offers`].
pub const PAPER_OFFERS: &str = "/bench/papers/{id}/offers";

/// GET, POST: a new offer for a supply.
#[must_use]
pub fn supply_offers(id: i64) -> String {
    format!("/bench/supplies/{id}/offers")
}

/// Pattern of [`supply_offers`].
pub const SUPPLY_OFFERS: &str = "/bench/supplies/{id}/offers";

/// GET, POST: edit one offer.
#[must_use]
pub fn offer(id: i64) -> String {
    format!("/bench/offers/{id}")
}

/// Pattern of [`offer`].
pub const OFFER: &str = "/bench/offers/{id}";

/// GET, POST: remove one offer.
#[must_use]
pub fn remove_offer(id: i64) -> String {
    format!("/bench/offers/{id}/remove")
}

/// Pattern of [`remove_offer`].
pub const REMOVE_OFFER: &str = "/bench/offers/{id}/remove";
