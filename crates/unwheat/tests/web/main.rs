//! Drives the workbench in Chromium as a person does, and knocks at its door over plain HTTP.
//! Without a browser on the machine the browser tests are left out, and say so;
//! `UNWHEAT_BROWSER=must` makes that a failure.

#![allow(clippy::panic, reason = "a test that cannot go on says why and fails")]

mod asleep;
mod back;
mod batch;
mod bench;
mod blend;
mod card;
mod conflict;
mod days;
mod door;
mod errors;
mod file;
mod harness;
mod heat;
mod keyboard;
mod kitchen;
mod leave_out;
mod live;
mod look;
mod method;
mod part;
mod plain;
mod plan;
mod settle;
mod shape;
mod shop;
mod size;
mod whole;
