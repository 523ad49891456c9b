-- What shops ask for papers and supplies, which spools lie there, and what a class earns.
-- Money is whole minor units of the server's one currency.

CREATE TABLE offer (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    paper_id INTEGER REFERENCES paper (id) ON DELETE CASCADE,
    supply_id INTEGER REFERENCES supply (id) ON DELETE CASCADE,
    -- As the instructor names it.
    shop TEXT NOT NULL,
    -- A pack of so many, or a spool of a length.
    pack INTEGER CHECK (pack BETWEEN 1 AND 10000),
    spool_nm INTEGER CHECK (spool_nm > 0),
    price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
    -- "3 for 2": so many packs together, for a price.
    multi_packs INTEGER CHECK (multi_packs BETWEEN 2 AND 100),
    multi_minor INTEGER CHECK (multi_minor >= 0),
    CHECK ((paper_id IS NULL) <> (supply_id IS NULL)),
    CHECK ((pack IS NULL) <> (spool_nm IS NULL)),
    CHECK ((multi_packs IS NULL) = (multi_minor IS NULL))
) STRICT;
CREATE INDEX offer_by_paper ON offer (paper_id);
CREATE INDEX offer_by_supply ON offer (supply_id);

-- A piece of ribbon comes from one spool, so that one sum of lengths is not enough: a JSON list
-- of lengths in nanometres.
ALTER TABLE supply ADD COLUMN spools TEXT NOT NULL DEFAULT '[]';
UPDATE supply SET spools = '[' || on_hand_nm || ']' WHERE on_hand_nm > 0;
ALTER TABLE supply DROP COLUMN on_hand_nm;

CREATE TABLE class_money (
    class_id INTEGER PRIMARY KEY REFERENCES class (id) ON DELETE CASCADE,
    version INTEGER NOT NULL DEFAULT 1,
    -- What each attendee pays; what of the income is to stay, in percent.
    fee_minor INTEGER CHECK (fee_minor >= 0),
    margin INTEGER CHECK (margin BETWEEN 0 AND 90),
    venue_minor INTEGER CHECK (venue_minor >= 0),
    -- Own time: an hour's rate, and minutes where they differ from the plan's.
    rate_minor INTEGER CHECK (rate_minor >= 0),
    own_minutes INTEGER CHECK (own_minutes BETWEEN 0 AND 100000),
    -- Whether consumables cost what is used of them, or whole packs.
    consumables TEXT NOT NULL CHECK (consumables IN ('use', 'pack')),
    -- What holds the joints: a roll of tape, or dots with so much room between them.
    adhesive_id INTEGER REFERENCES supply (id),
    dots_apart_nm INTEGER NOT NULL CHECK (dots_apart_nm > 0)
) STRICT;
