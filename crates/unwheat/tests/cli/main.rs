//! Drives the built binary as a person does: arguments and text in, text and exit code out.

mod bad;
mod blend;
mod evidence;
mod heat;
mod help;
mod hydration;
mod leaven;
mod lines;
mod plan;
mod published;
mod readme;
mod rework;
mod run;
mod shape;
mod shop;
mod size;
mod start;
mod terminal;
