//! Drives the workbench in Chromium as a person does, and knocks at its door over plain HTTP.
//! Without a browser on the machine the browser tests are left out, and say so;
//! `UNWHEAT_BROWSER=must` makes that a failure.

mod batch;
mod bench;
mod conflict;
mod door;
mod errors;
mod file;
mod harness;
mod keyboard;
mod kitchen;
mod live;
mod look;
mod plain;
mod settle;
mod whole;
