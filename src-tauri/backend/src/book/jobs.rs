//! Long work on a thread of its own: started, polled, cancelled.
//! Never a window or a callback: whoever wants to know asks.
//! Invariant: a job that ended keeps its last words until it is asked or forty others followed.

use super::hold;
use crate::error::{Error, Result};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

const KEPT: usize = 40;

/// The jobs of an open register.
#[derive(Debug, Default)]
pub struct Jobs(Mutex<BTreeMap<String, Arc<Job>>>);

/// One job, shared by its thread and those who ask.
#[derive(Debug)]
pub struct Job {
    cancelled: AtomicBool,
    sealed: AtomicBool,
    view: Mutex<JobView>,
}

/// Where a job is.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct JobView {
    /// Its id.
    pub job: String,
    /// Running, done, failed or cancelled.
    pub state: JobState,
    /// Steps done.
    pub done: u32,
    /// Steps in all.
    pub total: u32,
    /// What it found that is not as it should be; empty when sound.
    pub found: Vec<String>,
    /// What came of it, e.g. the file it wrote; null until there is something.
    pub result: Option<String>,
}

/// A job that was started.
#[derive(Debug, serde::Serialize, ts_rs::TS)]
pub struct JobStarted {
    /// Its id.
    pub job: String,
}

/// A job's state.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
#[serde(rename_all = "snake_case")]
pub enum JobState {
    /// At work.
    Running,
    /// Came to its end.
    Done,
    /// Stopped by an error; the last of `found` says which.
    Failed,
    /// Stopped because it was asked to.
    Cancelled,
}

impl Jobs {
    /// Starts `work` on its own thread and returns the job's id.
    pub fn start(&self, work: impl FnOnce(&Job) -> Result<()> + Send + 'static) -> String {
        self.begin(uuid::Uuid::now_v7().to_string(), work)
    }

    /// Starts `work` as the job of a request: the same request again finds the job already begun.
    ///
    /// # Errors
    /// `Invalid` for a request that is no UUID.
    pub fn start_for(
        &self,
        request: &str,
        work: impl FnOnce(&Job) -> Result<()> + Send + 'static,
    ) -> Result<String> {
        let id = uuid::Uuid::parse_str(request).map_err(|_| Error::invalid("request", "unknown_word"))?;
        Ok(self.begin(id.to_string(), work))
    }

    fn begin(&self, id: String, work: impl FnOnce(&Job) -> Result<()> + Send + 'static) -> String {
        let mut all = hold(&self.0);
        if all.contains_key(&id) {
            return id;
        }
        let view = JobView {
            job: id.clone(),
            state: JobState::Running,
            done: 0,
            total: 0,
            found: Vec::new(),
            result: None,
        };
        let job = Arc::new(Job {
            cancelled: AtomicBool::new(false),
            sealed: AtomicBool::new(false),
            view: Mutex::new(view),
        });
        while all.len() >= KEPT && all.pop_first().is_some() {}
        all.insert(id.clone(), Arc::clone(&job));
        std::thread::spawn(move || {
            let outcome = work(&job);
            let mut view = hold(&job.view);
            view.state = match outcome {
                Ok(()) if job.is_cancelled() => JobState::Cancelled,
                Ok(()) => JobState::Done,
                Err(error) => {
                    view.found.push(error.to_string());
                    JobState::Failed
                }
            };
        });
        id
    }

    /// Where the job is.
    ///
    /// # Errors
    /// `Missing` for an unknown job.
    pub fn show(&self, id: &str) -> Result<JobView> {
        let all = hold(&self.0);
        let job = all.get(id).ok_or(Error::Missing { what: "job" })?;
        Ok(hold(&job.view).clone())
    }

    /// Asks the job to stop at its next step.
    ///
    /// # Errors
    /// `Missing` for an unknown job.
    pub fn cancel(&self, id: &str) -> Result<JobView> {
        if let Some(job) = hold(&self.0).get(id) {
            job.cancelled.store(true, Ordering::SeqCst);
        }
        self.show(id)
    }
}

impl Job {
    /// One that nobody watches, for work that is waited for.
    pub(super) fn unseen() -> Self {
        let view = JobView {
            job: String::new(),
            state: JobState::Running,
            done: 0,
            total: 0,
            found: Vec::new(),
            result: None,
        };
        Self { cancelled: AtomicBool::new(false), sealed: AtomicBool::new(false), view: Mutex::new(view) }
    }

    /// Whether the job should stop.
    pub fn is_cancelled(&self) -> bool {
        self.cancelled.load(Ordering::SeqCst) && !self.sealed.load(Ordering::SeqCst)
    }

    /// What was asked for is done: to cancel it now comes too late.
    pub fn seal(&self) {
        self.sealed.store(true, Ordering::SeqCst);
    }

    /// Says how far the work has come.
    pub fn step(&self, done: usize, total: usize) {
        let mut view = hold(&self.view);
        view.done = u32::try_from(done).unwrap_or(u32::MAX);
        view.total = u32::try_from(total).unwrap_or(u32::MAX);
    }

    /// Notes something that is not as it should be.
    pub fn found(&self, what: String) {
        hold(&self.view).found.push(what);
    }

    /// Says what came of the work.
    pub fn result(&self, what: String) {
        hold(&self.view).result = Some(what);
    }
}
