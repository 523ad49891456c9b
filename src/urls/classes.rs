//! Addresses of classes, their packets, and the links to them.

/// GET, POST: plan a class.
#[must_use]
pub fn class_new() -> String {
    CLASS_NEW.to_owned()
}

/// Pattern of [`class_new`].
pub const CLASS_NEW: &str = "/classes/new";

/// GET: a poster with the code of the attendees' link.
#[must_use]
pub fn class_poster(id: i64) -> String {
    format!("/classes/{id}/poster")
}

/// Pattern of [`class_poster`].
pub const CLASS_POSTER: &str = "/classes/{id}/poster";

/// GET: one class.
#[must_use]
pub fn class(id: i64) -> String {
    format!("/classes/{id}")
}

/// Pattern of [`class`].
pub const CLASS: &str = "/classes/{id}";

/// GET: one class, after something was saved.
#[must_use]
pub fn class_saved(id: i64) -> String {
    format!("/classes/{id}?done=saved")
}

/// GET: one class, after it was published.
#[must_use]
pub fn class_published(id: i64) -> String {
    format!("/classes/{id}?done=published")
}

/// GET, POST: title, day, place.
#[must_use]
pub fn class_edit(id: i64) -> String {
    format!("/classes/{id}/edit")
}

/// Pattern of [`class_edit`].
pub const CLASS_EDIT: &str = "/classes/{id}/edit";

/// GET, POST: all colourways in one form.
#[must_use]
pub fn class_colourways(id: i64) -> String {
    format!("/classes/{id}/colourways")
}

/// Pattern of [`class_colourways`].
pub const CLASS_COLOURWAYS: &str = "/classes/{id}/colourways";

/// GET, POST: all attendees in one form.
#[must_use]
pub fn class_attendees(id: i64) -> String {
    format!("/classes/{id}/attendees")
}

/// Pattern of [`class_attendees`].
pub const CLASS_ATTENDEES: &str = "/classes/{id}/attendees";

/// GET, POST: tools on the day.
#[must_use]
pub fn class_tools(id: i64) -> String {
    format!("/classes/{id}/tools")
}

/// Pattern of [`class_tools`].
pub const CLASS_TOOLS: &str = "/classes/{id}/tools";

/// GET: what the packet holds, and proof that it balances.
#[must_use]
pub fn class_packet(id: i64) -> String {
    format!("/classes/{id}/packet")
}

/// Pattern of [`class_packet`].
pub const CLASS_PACKET: &str = "/classes/{id}/packet";

/// All that a packet holds, as lists of links name it.
#[must_use]
pub fn packet(id: i64) -> [(&'static str, String); 8] {
    [
        ("Contents", class_packet(id)),
        ("Kit-prep list", class_prep(id)),
        ("Cut cards", class_cuts(id)),
        ("Shopping list", class_shopping(id)),
        ("Packs", class_packs(id)),
        ("Labels", class_labels(id)),
        ("Host's list", class_host(id)),
        ("Step cards", class_cards(id)),
    ]
}

/// GET: the kit-prep list; POST: who helps with what.
#[must_use]
pub fn class_prep(id: i64) -> String {
    format!("/classes/{id}/packet/prep")
}

/// GET: the kit-prep list, after helpers were saved.
#[must_use]
pub fn class_prep_saved(id: i64) -> String {
    format!("/classes/{id}/packet/prep?done=saved")
}

/// Pattern of [`class_prep`].
pub const CLASS_PREP: &str = "/classes/{id}/packet/prep";

/// GET: cut cards, and the two cut plans side by side.
#[must_use]
pub fn class_cuts(id: i64) -> String {
    format!("/classes/{id}/packet/cuts")
}

/// Pattern of [`class_cuts`].
pub const CLASS_CUTS: &str = "/classes/{id}/packet/cuts";

/// POST: choose a cut plan.
#[must_use]
pub fn class_cut_plan(id: i64) -> String {
    format!("/classes/{id}/packet/cuts/plan")
}

/// Pattern of [`class_cut_plan`].
pub const CLASS_CUT_PLAN: &str = "/classes/{id}/packet/cuts/plan";

/// POST: put left-over pieces back as stock on hand.
#[must_use]
pub fn class_left_overs(id: i64) -> String {
    format!("/classes/{id}/packet/cuts/left-overs")
}

/// Pattern of [`class_left_overs`].
pub const CLASS_LEFT_OVERS: &str = "/classes/{id}/packet/cuts/left-overs";

/// GET: a check list for each pack, several to a page.
#[must_use]
pub fn class_packs(id: i64) -> String {
    format!("/classes/{id}/packet/packs")
}

/// Pattern of [`class_packs`].
pub const CLASS_PACKS: &str = "/classes/{id}/packet/packs";

/// GET: a check list for each pack, one to a page.
#[must_use]
pub fn class_packs_one_a_page(id: i64) -> String {
    format!("/classes/{id}/packet/packs?per_page=1")
}

/// GET: labels for packs, tables and tools; POST: keep the sheet they are printed on.
#[must_use]
pub fn class_labels(id: i64) -> String {
    format!("/classes/{id}/packet/labels")
}

/// Pattern of [`class_labels`].
pub const CLASS_LABELS: &str = "/classes/{id}/packet/labels";

/// GET: the labels that `query` asks for.
#[must_use]
pub fn class_labels_as(id: i64, query: &str) -> String {
    format!("/classes/{id}/packet/labels?{query}")
}

/// GET: the labels that `query` asks for, as PDF.
#[must_use]
pub fn class_labels_pdf(id: i64, query: &str) -> String {
    format!("/classes/{id}/packet/labels.pdf?{query}")
}

/// Pattern of [`class_labels_pdf`].
pub const CLASS_LABELS_PDF: &str = "/classes/{id}/packet/labels.pdf";

/// GET: the host's list.
#[must_use]
pub fn class_host(id: i64) -> String {
    format!("/classes/{id}/packet/host")
}

/// Pattern of [`class_host`].
pub const CLASS_HOST: &str = "/classes/{id}/packet/host";

/// GET: step cards.
#[must_use]
pub fn class_cards(id: i64) -> String {
    format!("/classes/{id}/packet/cards")
}

/// GET: step cards, so many to a page, as `query` says of units, hand and print.
#[must_use]
pub fn class_cards_as(id: i64, per_page: usize, query: &str) -> String {
    format!("/classes/{id}/packet/cards{query}&per_page={per_page}")
}

/// Pattern of [`class_cards`].
pub const CLASS_CARDS: &str = "/classes/{id}/packet/cards";

/// POST: freeze the class as its next revision.
#[must_use]
pub fn class_publish(id: i64) -> String {
    format!("/classes/{id}/publish")
}

/// Pattern of [`class_publish`].
pub const CLASS_PUBLISH: &str = "/classes/{id}/publish";

/// GET, POST: links for attendees and hosts.
#[must_use]
pub fn class_links(id: i64) -> String {
    format!("/classes/{id}/links")
}

/// Pattern of [`class_links`].
pub const CLASS_LINKS: &str = "/classes/{id}/links";

/// POST: end a link.
#[must_use]
pub fn class_link_revoke(id: i64, link: i64) -> String {
    format!("/classes/{id}/links/{link}/revoke")
}

/// Pattern of [`class_link_revoke`].
pub const CLASS_LINK_REVOKE: &str = "/classes/{id}/links/{link}/revoke";

/// GET: all steps of a published class on a phone.
#[must_use]
pub fn attendee_link(token: &str) -> String {
    format!("{}{token}", super::ATTENDEE_LINKS)
}

/// Pattern of [`attendee_link`].
pub const ATTENDEE_LINK: &str = "/a/{token}";

/// GET: the host's lists of a published class.
#[must_use]
pub fn host_link(token: &str) -> String {
    format!("{}{token}", super::HOST_LINKS)
}

/// Pattern of [`host_link`].
pub const HOST_LINK: &str = "/h/{token}";

/// GET, POST: remove a class.
#[must_use]
pub fn class_remove(id: i64) -> String {
    format!("/classes/{id}/remove")
}

/// Pattern of [`class_remove`].
pub const CLASS_REMOVE: &str = "/classes/{id}/remove";

/// GET: the shopping list.
#[must_use]
pub fn class_shopping(id: i64) -> String {
    format!("/classes/{id}/packet/shopping")
}

/// Pattern of [`class_shopping`].
pub const CLASS_SHOPPING: &str = "/classes/{id}/packet/shopping";

/// GET, POST: what a class costs and earns.
#[must_use]
pub fn class_cost(id: i64) -> String {
    format!("/classes/{id}/cost")
}

/// Pattern of [`class_cost`].
pub const CLASS_COST: &str = "/classes/{id}/cost";
