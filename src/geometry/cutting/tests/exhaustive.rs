//! Small jobs at random against the referee.

use super::referee::least_cost;
use super::*;
use crate::cutting::random::Random;

fn small_job(random: &mut Random) -> Option<CutJob> {
    let number =
        |random: &mut Random, from: usize, to: usize| (from + random.below(to - from + 1)) as i64;
    let kerf = number(random, 0, 3) / 3;
    let stages = [None, Some(3), Some(2), Some(3), Some(1)][random.below(5)];
    let stocks = (0..number(random, 1, 2))
        .map(|index| CutStock {
            available: (random.below(3) == 0).then(|| number(random, 1, 3) as u32),
            ..stock(
                &format!("sheet {index}"),
                number(random, 4, 9),
                number(random, 4, 8),
                number(random, 3, 9) as u64,
            )
        })
        .collect();
    let parts = (0..number(random, 1, 3))
        .map(|index| {
            part(
                &format!("tin label {index}"),
                number(random, 1, 6),
                number(random, 1, 5),
                number(random, 1, 3) as u32,
                random.below(2) == 0,
            )
        })
        .collect();
    CutJob::new(stocks, parts, mm(kerf), stages).ok()
}

#[test]
fn small_jobs_cost_what_trying_everything_says() {
    let mut random = Random::new(7);
    let (mut planned_jobs, mut too_few) = (0, 0);
    while planned_jobs < 120 {
        let Some(job) = small_job(&mut random) else {
            continue;
        };
        match (planned(&job), least_cost(&job)) {
            (Ok(plans), Some(least)) => {
                assert!(plans.bound <= least, "{} > {least}: {job:?}", plans.bound);
                assert_eq!(plans.least_paper.cost, least, "{job:?}");
                planned_jobs += 1;
            }
            (Err(CutError::TooFewSheets { .. } | CutError::NotFound { .. }), None) => too_few += 1,
            (found, least) => panic!("{found:?} where the least cost is {least:?}: {job:?}"),
        }
    }
    assert!(too_few > 5, "some jobs must lack sheets");
}
