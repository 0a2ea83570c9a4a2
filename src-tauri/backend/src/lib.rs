//! The map of the rooms; nothing else.
//!
//! One room per noun of the trade, one record book under all of them. In a room: `rules` is true
//! with pencil and paper, `rows` reads, `acts` are the commands. `commands` lists every command.
//! Invariant: acts → rows, rules, book; rows → rules; rules → rules; the book knows no trade word.

mod beside;
pub mod book;
pub mod commands;
pub mod due;
pub mod error;
pub mod ids;
pub mod measure;
mod types;
pub mod where_from;
mod words;

pub mod batches;
pub mod care;
pub mod chores;
pub mod condition;
pub mod import;
pub mod lifting;
pub mod logs;
pub mod looks;
pub mod moisture;
pub mod moves;
pub mod photos;
pub mod pickings;
pub mod review;
pub mod rounds;
pub mod settings;
pub mod sharing;
pub mod soaking;
pub mod spots;
pub mod strains;
pub mod sun;
pub mod tags;
pub mod weather;
pub mod woods;
