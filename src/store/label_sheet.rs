//! The sheet of labels that was last kept. Keeping another one replaces it.

use sqlx::{FromRow, SqliteExecutor};
use tablefold_geometry::Length;

use super::StoreResult;
use super::saved::{count, damaged, length};
use crate::workshop::{LabelMeasures, LabelSheet};

/// A sheet that is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeptLabelSheet {
    /// Its measures.
    pub sheet: LabelSheet,
    /// Whether a thin line is printed round each label.
    pub outline: bool,
}

#[derive(FromRow)]
struct Row {
    paper_width_nm: i64,
    paper_height_nm: i64,
    columns: i64,
    rows: i64,
    left_nm: i64,
    top_nm: i64,
    width_nm: i64,
    height_nm: i64,
    across_nm: i64,
    down_nm: i64,
    outline: bool,
}

/// The sheet that was kept, if one was.
///
/// # Errors
/// When the database fails, or holds a sheet that cannot be.
pub async fn find_label_sheet(db: impl SqliteExecutor<'_>) -> StoreResult<Option<KeptLabelSheet>> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT paper_width_nm, paper_height_nm, columns, rows, left_nm, top_nm, width_nm,
                height_nm, across_nm, down_nm, outline
         FROM label_sheet WHERE id = 1",
    )
    .fetch_optional(db)
    .await?;
    row.map(read).transpose()
}

fn read(row: Row) -> StoreResult<KeptLabelSheet> {
    let of = |column: &str, nm| length(&format!("label_sheet.{column}"), nm);
    let measures = LabelMeasures {
        paper: (
            of("paper_width_nm", row.paper_width_nm)?,
            of("paper_height_nm", row.paper_height_nm)?,
        ),
        columns: count("label_sheet.columns", row.columns)?,
        rows: count("label_sheet.rows", row.rows)?,
        left: of("left_nm", row.left_nm)?,
        top: of("top_nm", row.top_nm)?,
        width: of("width_nm", row.width_nm)?,
        height: of("height_nm", row.height_nm)?,
        across: of("across_nm", row.across_nm)?,
        down: of("down_nm", row.down_nm)?,
    };
    let wrong = |problems| damaged("label_sheet", format!("{problems:?}"));
    Ok(KeptLabelSheet {
        sheet: LabelSheet::new(measures).map_err(wrong)?,
        outline: row.outline,
    })
}

/// Keeps a sheet in place of the last one.
///
/// # Errors
/// When the database fails.
pub async fn update_label_sheet(
    db: impl SqliteExecutor<'_>,
    kept: &KeptLabelSheet,
) -> StoreResult<()> {
    let measures = kept.sheet.measures();
    let nm = Length::nm;
    sqlx::query(
        "INSERT OR REPLACE INTO label_sheet (id, paper_width_nm, paper_height_nm, columns, rows,
             left_nm, top_nm, width_nm, height_nm, across_nm, down_nm, outline)
         VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )
    .bind(nm(measures.paper.0))
    .bind(nm(measures.paper.1))
    .bind(measures.columns)
    .bind(measures.rows)
    .bind(nm(measures.left))
    .bind(nm(measures.top))
    .bind(nm(measures.width))
    .bind(nm(measures.height))
    .bind(nm(measures.across))
    .bind(nm(measures.down))
    .bind(kept.outline)
    .execute(db)
    .await
    .map(drop)
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::*;

    fn kept(rows: u32, outline: bool) -> KeptLabelSheet {
        // Every measure another, so that none can stand for another.
        let mm = Length::from_mm;
        let measures = LabelMeasures {
            paper: (mm(200), mm(300)),
            columns: 2,
            rows,
            left: mm(11),
            top: mm(12),
            width: mm(80),
            height: mm(40),
            across: mm(3),
            down: mm(4),
        };
        KeptLabelSheet {
            sheet: LabelSheet::new(measures).unwrap(),
            outline,
        }
    }

    #[tokio::test]
    async fn the_last_sheet_that_was_kept_is_found_as_it_was() {
        let store = Store::temporary().await.unwrap();
        assert_eq!(find_label_sheet(store.read()).await.unwrap(), None);
        for sheet in [kept(5, true), kept(6, false)] {
            let mut change = store.change().await.unwrap();
            update_label_sheet(&mut *change, &sheet).await.unwrap();
            change.commit().await.unwrap();
            let found = find_label_sheet(store.read()).await.unwrap();
            assert_eq!(found, Some(sheet));
        }
    }
}
