//! The map of Review's rules; each file says what it holds.
//! Never the register or the clock: lives and the day come in.
//! Invariant: from numbers (`anova`, `survival`, `logrank`, `pooling`) to logs (`life`, `profile`, `rates`,
//! `times`) to what may be said (`saying`, `reply`); what is assumed stands in `priors` alone.

pub mod anova;
pub mod chance;
pub mod compare;
pub mod confounding;
pub mod covariates;
pub mod dense;
pub mod life;
pub mod logrank;
pub mod odd;
pub mod pdf;
pub mod pooling;
pub mod priors;
pub mod profile;
pub mod published;
pub mod question;
pub mod rates;
pub mod reply;
pub mod saying;
pub mod season;
pub mod shapes;
pub mod sheet;
pub mod survival;
pub mod times;
pub mod year;
pub mod yields;
