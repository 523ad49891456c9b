//! What a closed envelope is at the post office: the size classes of four posts.
//!
//! Limits change. Each answer carries the year of the limits and where they were read; ask the
//! post office before a class posts anything. Sizes in mm; inches and ounces are exact.

/// Millimetres in an inch.
const INCH: f64 = 25.4;
/// Grams in 3.5 oz avoirdupois.
const OUNCES_3_5: f64 = 3.5 * 28.349_523_125;
/// What a size may be over a limit and still be at it, mm: rounding.
const SLACK_MM: f64 = 1e-6;

/// Something to be posted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mailpiece {
    /// The side along which the address is written, mm.
    pub length_mm: f64,
    /// The other side, mm.
    pub height_mm: f64,
    /// At its thickest, mm.
    pub thickness_mm: f64,
    /// Its weight, if known.
    pub grams: Option<f64>,
    /// Whether a ribbon, button, clasp or lump makes it uneven.
    pub uneven: bool,
}

/// What one post takes it as.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostClass {
    /// Which post.
    pub post: &'static str,
    /// The class in its own words: "letter".
    pub class: &'static str,
    /// Why, and what has to hold besides, in sentences.
    pub says: Vec<String>,
    /// The years of the limits.
    pub dated: &'static str,
    /// Where they were read.
    pub source: &'static str,
}

impl Mailpiece {
    fn long(&self) -> f64 {
        self.length_mm.max(self.height_mm)
    }

    fn short(&self) -> f64 {
        self.length_mm.min(self.height_mm)
    }

    /// Whether it is within these sides and this thickness, whichever way round.
    fn within(&self, (long, short, thick): (f64, f64, f64)) -> bool {
        self.long() <= long + SLACK_MM
            && self.short() <= short + SLACK_MM
            && self.thickness_mm <= thick + SLACK_MM
    }

    /// Whether it weighs at most this; what is not known is taken to.
    fn weighs_at_most(&self, grams: f64) -> bool {
        self.grams.is_none_or(|weight| weight <= grams)
    }

    /// Whether its sizes are any.
    fn is_one(&self) -> bool {
        let sizes = [self.length_mm, self.height_mm, self.thickness_mm];
        sizes.iter().all(|size| size.is_finite() && *size > 0.0)
            && self
                .grams
                .is_none_or(|grams| grams.is_finite() && grams >= 0.0)
    }

    /// Length over height: the aspect ratio of the USPS.
    #[must_use]
    pub fn aspect_ratio(&self) -> f64 {
        self.length_mm / self.height_mm
    }
}

/// What each post takes it as; none where a size is no size.
#[must_use]
pub fn post_classes(piece: &Mailpiece) -> Vec<PostClass> {
    if !piece.is_one() {
        return Vec::new();
    }
    vec![
        usps(piece),
        royal_mail(piece),
        upu(piece),
        deutsche_post(piece),
    ]
}

/// Length plus girth, in the unit of the sizes: `around` are the sides that go round it (for a
/// box width, height, width, height). The USPS takes up to 108 in, some services 130 in.
#[must_use]
pub fn length_and_girth(length: f64, around: &[f64]) -> f64 {
    length + around.iter().sum::<f64>()
}

/// Whether the Universal Postal Union's letter-post takes a roll: its length and two diameters
/// from 170 to 1040 mm, its length from 100 to 900 mm (Regulations art. 203 as quoted by Korea
/// Post).
#[must_use]
pub fn upu_takes_roll(length_mm: f64, diameter_mm: f64) -> bool {
    let between =
        |size: f64, least: f64, most: f64| size >= least - SLACK_MM && size <= most + SLACK_MM;
    diameter_mm > 0.0
        && between(length_mm + 2.0 * diameter_mm, 170.0, 1040.0)
        && between(length_mm, 100.0, 900.0)
}

/// Whether the USPS takes a single sheet at the price of a card: 3½ x 5 to 4¼ x 6 in, 0.007 to
/// 0.016 in thick (retail; BusinessMail101, 2018 to 2021).
#[must_use]
pub fn usps_card_price(piece: &Mailpiece) -> bool {
    let between = |size: f64, least: f64, most: f64| {
        size >= least * INCH - SLACK_MM && size <= most * INCH + SLACK_MM
    };
    between(piece.length_mm, 5.0, 6.0)
        && between(piece.height_mm, 3.5, 4.25)
        && between(piece.thickness_mm, 0.007, 0.016)
}

/// DMM 101.1.1 and 101.1.2 (letters, nonmachinable letters), 301.1 (flats), Publication 220 §3-1.
fn usps(piece: &Mailpiece) -> PostClass {
    let mut says = Vec::new();
    let class = if let Some(why) = not_mailable(piece) {
        says.push(why.to_owned());
        "not mailable"
    } else if piece.within((11.5 * INCH, 6.125 * INCH, 0.25 * INCH))
        && piece.weighs_at_most(OUNCES_3_5)
    {
        says = nonmachinable(piece);
        if piece.grams.is_none() {
            says.push("It may weigh up to 3.5 oz.".to_owned());
        }
        if nonmachinable(piece).is_empty() {
            "letter"
        } else {
            "nonmachinable letter"
        }
    } else if piece.within((15.0 * INCH, 12.0 * INCH, 0.75 * INCH)) {
        says.push("It has to bend, and to be of one thickness.".to_owned());
        "flat (large envelope)"
    } else {
        says.push("It is larger than a flat: 15 x 12 x 3/4 in.".to_owned());
        "parcel"
    };
    PostClass {
        post: "USPS",
        class,
        says,
        dated: "2010 to 2018",
        source: "DMM 101.1 (2010), 201.1.1 (2014), 301.1 (2010); Publication 25 (2018)",
    }
}

fn not_mailable(piece: &Mailpiece) -> Option<&'static str> {
    let (thick, thin) = (piece.thickness_mm, 0.007 * INCH);
    if thick < thin - SLACK_MM {
        return Some("It has to be at least 0.007 in thick.");
    }
    let small = piece.length_mm < 5.0 * INCH - SLACK_MM || piece.height_mm < 3.5 * INCH - SLACK_MM;
    (small && thick <= 0.25 * INCH + SLACK_MM)
        .then_some("It has to be at least 5 in along the address and 3 1/2 in high.")
}

/// Why a machine cannot sort a letter.
fn nonmachinable(piece: &Mailpiece) -> Vec<String> {
    let mut why = Vec::new();
    let ratio = piece.aspect_ratio();
    if !(1.3 - 1e-9..=2.5 + 1e-9).contains(&ratio) {
        why.push(format!(
            "Its length is {ratio:.2} times its height; machines take 1.3 to 2.5 times."
        ));
    }
    let large = piece.height_mm > 4.25 * INCH + SLACK_MM || piece.length_mm > 6.0 * INCH + SLACK_MM;
    if large && piece.thickness_mm < 0.009 * INCH - SLACK_MM {
        why.push("At this size it has to be at least 0.009 in thick.".to_owned());
    }
    if piece.uneven {
        why.push("It is uneven: machines take no clasps, strings, buttons or lumps.".to_owned());
    }
    why
}

/// Letter 240 x 165 x 5 mm to 100 g, large letter 353 x 250 x 25 mm to 750 g, small parcel
/// 450 x 350 x 160 mm to 2 kg.
fn royal_mail(piece: &Mailpiece) -> PostClass {
    let classes = [
        ("letter", (240.0, 165.0, 5.0), 100.0),
        ("large letter", (353.0, 250.0, 25.0), 750.0),
        ("small parcel", (450.0, 350.0, 160.0), 2000.0),
    ];
    let found = classes
        .into_iter()
        .find(|(_, size, grams)| piece.within(*size) && piece.weighs_at_most(*grams));
    let (class, says) = match found {
        Some((class, (long, short, thick), grams)) => {
            let limits = format!("Up to {long} x {short} x {thick} mm and {grams} g.");
            (class, limits)
        }
        None => ("parcel", "It is larger than a small parcel.".to_owned()),
    };
    PostClass {
        post: "Royal Mail",
        class,
        says: vec![says],
        dated: "no year given",
        source: "the regulator's help page (Ofcom), four guides",
    }
}

/// Letter-post of the Universal Postal Union: 90 x 140 mm at least, length + width + depth up to
/// 900 mm, longest side up to 600 mm. Standardized: up to 235 x 120 x 5 mm, length at least 1.4
/// times the width. (Some posts print 125 mm; the lesser one is taken, and no tolerance.)
fn upu(piece: &Mailpiece) -> PostClass {
    let (long, short) = (piece.long(), piece.short());
    let sum = long + short + piece.thickness_mm;
    let (class, says) = if long < 140.0 - SLACK_MM || short < 90.0 - SLACK_MM {
        ("too small", "It has to be at least 90 x 140 mm.".to_owned())
    } else if long > 600.0 + SLACK_MM || sum > 900.0 + SLACK_MM {
        let says = "Length, width and depth may come to 900 mm, the longest to 600 mm.";
        ("too large", says.to_owned())
    } else if !piece.within((235.0, 120.0, 5.0)) {
        let says = "A standardized one is up to 235 x 120 x 5 mm.".to_owned();
        ("letter, not standardized", says)
    } else if long < 1.4 * short - SLACK_MM {
        let ratio = long / short;
        let says = format!("Its length is {ratio:.2} times its width; standard is 1.4 or more.");
        ("letter, not standardized", says)
    } else if piece.uneven {
        let says = "A standardized one is of one thickness.".to_owned();
        ("letter, not standardized", says)
    } else {
        let says = "Up to 235 x 120 x 5 mm, its length at least 1.4 times its width.";
        ("standardized letter", says.to_owned())
    };
    PostClass {
        post: "Universal Postal Union",
        class,
        says: vec![says],
        dated: "no year given",
        source: "Regulations art. 203 as quoted by Korea Post; Cyprus Post, Croatian Post, IBPT",
    }
}

/// Standardbrief 140–235 x 90–125 x 5 mm to 20 g, Kompaktbrief 100–235 x 70–125 x 10 mm to 50 g,
/// Großbrief to 353 x 250 x 20 mm and 500 g; the first two at least 1.4 times as long as wide.
fn deutsche_post(piece: &Mailpiece) -> PostClass {
    let (long, short) = (piece.long(), piece.short());
    let oblong = long >= 1.4 * short - SLACK_MM;
    let is = |(long_least, short_least): (f64, f64), size, grams| {
        long >= long_least - SLACK_MM
            && short >= short_least - SLACK_MM
            && piece.within(size)
            && piece.weighs_at_most(grams)
    };
    let (class, says) = if oblong && is((140.0, 90.0), (235.0, 125.0, 5.0), 20.0) {
        ("Standardbrief", "Up to 235 x 125 x 5 mm and 20 g.")
    } else if oblong && is((100.0, 70.0), (235.0, 125.0, 10.0), 50.0) {
        ("Kompaktbrief", "Up to 235 x 125 x 10 mm and 50 g.")
    } else if is((100.0, 70.0), (353.0, 250.0, 20.0), 500.0) {
        ("Großbrief", "Up to 353 x 250 x 20 mm and 500 g.")
    } else if long < 100.0 - SLACK_MM || short < 70.0 - SLACK_MM {
        ("too small", "It has to be at least 100 x 70 mm.")
    } else {
        ("larger than a Großbrief", "Ask at the counter.")
    };
    PostClass {
        post: "Deutsche Post",
        class,
        says: vec![says.to_owned()],
        dated: "no year given",
        source: "consumer guides",
    }
}

#[cfg(test)]
mod tests;
