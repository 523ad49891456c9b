//! Cut plans, kept in memory by what is asked: a page waits a moment for them and comes back.
//!
//! The same question always has the same answer, so it does not matter who asked first. Work is
//! done on threads of its own, no more at once than the machine has, and each question once.

use std::collections::{HashMap, VecDeque};
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tablefold_geometry::{CutError, CutJob, CutPlans, Progress, plan_cuts};
use tokio::sync::watch;

use crate::workshop::CLASS_EFFORT;

/// So many answers stay in memory; then the oldest make room.
const MOST_KEPT: usize = 256;

/// How long a page waits before it says that planning takes longer.
const PATIENCE: Duration = Duration::from_millis(1_000);

type Answer = Result<Arc<CutPlans>, CutError>;
/// What a job asks, in numbers; names do not matter.
type Key = Vec<i64>;

/// The planner of a server. Cheap to clone; clones share what they know.
#[derive(Clone, Debug)]
pub struct CutPlanner {
    shared: Arc<Mutex<Shared>>,
    patience: Duration,
}

#[derive(Debug, Default)]
struct Shared {
    asked: HashMap<Key, Asked>,
    /// Keys in the order in which they were asked.
    order: VecDeque<Key>,
    waiting: VecDeque<Work>,
    workers: usize,
}

/// A question that is being answered, or was.
#[derive(Clone, Debug)]
struct Asked {
    answer: watch::Receiver<Option<Answer>>,
    percent: Arc<AtomicU32>,
}

#[derive(Debug)]
struct Work {
    job: CutJob,
    answer: watch::Sender<Option<Answer>>,
    percent: Arc<AtomicU32>,
}

/// Plans for all papers of a class, or how far they are.
#[derive(Clone, Debug)]
pub enum Planned {
    /// Every question has its answer.
    Ready(PlansFound),
    /// Work goes on in the background.
    Working {
        /// How far it is, of the effort that it may take; it often ends sooner.
        percent: u32,
    },
}

/// Answers to look up.
#[derive(Clone, Debug, Default)]
pub struct PlansFound(HashMap<Key, Answer>);

impl PlansFound {
    /// The answer to a question that was asked.
    ///
    /// # Errors
    /// What the planner refused, or [`CutError::Stopped`] for a question that was not asked.
    pub fn plan(&self, job: &CutJob) -> Result<Arc<CutPlans>, CutError> {
        self.0
            .get(&key(job))
            .cloned()
            .unwrap_or(Err(CutError::Stopped))
    }
}

impl Default for CutPlanner {
    fn default() -> Self {
        Self::patient(PATIENCE)
    }
}

impl CutPlanner {
    /// A planner whose pages wait this long.
    #[must_use]
    pub fn patient(patience: Duration) -> Self {
        Self {
            shared: Arc::default(),
            patience,
        }
    }

    /// The same planner for visitors who wait another time.
    #[must_use]
    pub fn waiting(&self, patience: Duration) -> Self {
        Self {
            shared: Arc::clone(&self.shared),
            patience,
        }
    }

    /// Answers every question, if that is done within the planner's patience.
    pub async fn plan(&self, jobs: &[CutJob]) -> Planned {
        let asked: Vec<(Key, Asked)> = jobs.iter().map(|job| self.ask(job)).collect();
        let all = async {
            let mut found = HashMap::with_capacity(asked.len());
            for (key, asked) in &asked {
                let mut answer = asked.answer.clone();
                // A closed channel without an answer: the work broke off.
                let answer = match answer.wait_for(Option::is_some).await {
                    Ok(answer) => answer.clone().unwrap_or(Err(CutError::Stopped)),
                    Err(_) => Err(CutError::Stopped),
                };
                found.insert(key.clone(), answer);
            }
            found
        };
        match tokio::time::timeout(self.patience, all).await {
            Ok(found) => {
                self.forget_failures(&found);
                Planned::Ready(PlansFound(found))
            }
            Err(_) => Planned::Working {
                percent: percent(&asked),
            },
        }
    }

    fn lock(&self) -> MutexGuard<'_, Shared> {
        lock(&self.shared)
    }

    /// Puts a question that nobody asked before in the queue.
    fn ask(&self, job: &CutJob) -> (Key, Asked) {
        let key = key(job);
        let mut shared = self.lock();
        if let Some(asked) = shared.asked.get(&key) {
            return (key, asked.clone());
        }
        let (sender, answer) = watch::channel(None);
        let percent = Arc::new(AtomicU32::new(0));
        let asked = Asked {
            answer,
            percent: Arc::clone(&percent),
        };
        shared.make_room();
        shared.asked.insert(key.clone(), asked.clone());
        shared.order.push_back(key.clone());
        shared.waiting.push_back(Work {
            job: job.clone(),
            answer: sender,
            percent,
        });
        if shared.workers < most_workers() {
            shared.workers += 1;
            let all = Arc::clone(&self.shared);
            let spawned = std::thread::Builder::new()
                .name("cut plans".to_owned())
                .spawn(move || work(&all));
            if spawned.is_err() {
                shared.workers -= 1;
            }
        }
        (key, asked)
    }

    /// A refusal names parts, and another class calls them otherwise; a break-off is tried again.
    fn forget_failures(&self, found: &HashMap<Key, Answer>) {
        let failed: Vec<&Key> = found
            .iter()
            .filter(|(_, answer)| answer.is_err())
            .map(|(key, _)| key)
            .collect();
        if failed.is_empty() {
            return;
        }
        let mut shared = self.lock();
        for key in failed {
            shared.asked.remove(key);
        }
        let Shared { asked, order, .. } = &mut *shared;
        order.retain(|key| asked.contains_key(key));
    }
}

impl Shared {
    fn make_room(&mut self) {
        let answered =
            |asked: &Asked| asked.answer.borrow().is_some() || asked.answer.has_changed().is_err();
        while self.order.len() >= MOST_KEPT {
            let oldest = self
                .order
                .iter()
                .position(|key| self.asked.get(key).is_none_or(answered));
            let Some(key) = oldest.and_then(|at| self.order.remove(at)) else {
                return;
            };
            self.asked.remove(&key);
        }
    }
}

/// A panic while the lock was held leaves nothing half done: each change is one call.
fn lock(shared: &Mutex<Shared>) -> MutexGuard<'_, Shared> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

fn most_workers() -> usize {
    std::thread::available_parallelism()
        .map_or(1, usize::from)
        .min(4)
}

/// Answers questions until none is waiting.
fn work(shared: &Mutex<Shared>) {
    loop {
        let next = {
            let mut shared = lock(shared);
            let next = shared.waiting.pop_front();
            if next.is_none() {
                shared.workers -= 1;
            }
            next
        };
        let Some(Work {
            job,
            answer,
            percent,
        }) = next
        else {
            return;
        };
        let mut report = |progress: &Progress| {
            let done = u128::from(progress.done) * 100 / u128::from(progress.of.max(1));
            percent.store(done.min(100) as u32, Ordering::Relaxed);
            ControlFlow::Continue(())
        };
        let plan = || plan_cuts(&job, &CLASS_EFFORT, &mut report).map(Arc::new);
        // A fault in one plan must not take the worker from the others.
        let found = std::panic::catch_unwind(std::panic::AssertUnwindSafe(plan));
        let found = found.unwrap_or(Err(CutError::Stopped));
        answer.send_replace(Some(found));
    }
}

fn percent(asked: &[(Key, Asked)]) -> u32 {
    let one = |asked: &Asked| {
        if asked.answer.borrow().is_some() {
            100
        } else {
            asked.percent.load(Ordering::Relaxed)
        }
    };
    let sum: u32 = asked.iter().map(|(_, asked)| one(asked)).sum();
    sum / u32::try_from(asked.len()).unwrap_or(u32::MAX).max(1)
}

fn key(job: &CutJob) -> Key {
    let phases = job.max_stages().map_or(-1, i64::from);
    let mut key = vec![job.kerf().nm(), phases, job.stock().len() as i64];
    for sheet in job.stock() {
        let available = sheet.available.map_or(-1, i64::from);
        let cost = i64::try_from(sheet.cost).unwrap_or(i64::MAX);
        key.extend([sheet.width.nm(), sheet.height.nm(), cost, available]);
    }
    for part in job.parts() {
        key.extend([part.width.nm(), part.height.nm()]);
        key.extend([i64::from(part.quantity), i64::from(part.turnable)]);
    }
    key
}

#[cfg(test)]
mod tests {
    use super::*;
    use tablefold_geometry::{CutPart, CutStock, Length};

    fn job(name: &str, quantity: u32) -> CutJob {
        let sheet = CutStock {
            name: "card".to_owned(),
            width: Length::from_mm(300),
            height: Length::from_mm(200),
            cost: 1,
            available: None,
        };
        let part = CutPart {
            name: name.to_owned(),
            width: Length::from_mm(70),
            height: Length::from_mm(50),
            quantity,
            turnable: true,
        };
        CutJob::new(vec![sheet], vec![part], Length::ZERO, Some(3)).unwrap()
    }

    fn ready(planned: Planned) -> PlansFound {
        match planned {
            Planned::Ready(found) => found,
            Planned::Working { percent } => panic!("still working at {percent} %"),
        }
    }

    #[tokio::test]
    async fn the_same_question_is_answered_once_whatever_its_names() {
        let planner = CutPlanner::patient(Duration::from_secs(60));
        let first = ready(planner.plan(&[job("tag", 40)]).await);
        let again = ready(planner.plan(&[job("label", 40), job("tag", 41)]).await);
        let (first, again) = (first.plan(&job("tag", 40)), again.plan(&job("tag", 40)));
        assert!(Arc::ptr_eq(&first.unwrap(), &again.unwrap()));
        assert_eq!(planner.lock().asked.len(), 2);
    }

    #[tokio::test]
    async fn who_does_not_wait_is_told_and_finds_the_plan_later() {
        let planner = CutPlanner::patient(Duration::ZERO);
        let jobs: Vec<CutJob> = (1..20).map(|quantity| job("tag", quantity * 7)).collect();
        assert!(matches!(planner.plan(&jobs).await, Planned::Working { .. }));
        let patient = planner.waiting(Duration::from_secs(60));
        let found = ready(patient.plan(&jobs).await);
        assert!(jobs.iter().all(|job| found.plan(job).is_ok()));
        ready(
            planner
                .waiting(Duration::from_millis(200))
                .plan(&jobs)
                .await,
        );
    }

    #[tokio::test]
    async fn what_is_kept_is_bounded() {
        let planner = CutPlanner::patient(Duration::from_secs(60));
        for quantity in 1..=MOST_KEPT as u32 + 9 {
            ready(planner.plan(&[job("tag", quantity)]).await);
        }
        let shared = planner.lock();
        assert_eq!(
            (shared.asked.len(), shared.order.len()),
            (MOST_KEPT, MOST_KEPT)
        );
    }
}
