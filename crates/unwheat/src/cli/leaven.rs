//! `unwheat leaven`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use recipe::leaven::{Altitude, Corrected, Report, at_altitude, lines_of};

/// Balance soda and acid, swap leaveners, correct for altitude
#[derive(Debug, Args)]
#[command(
    after_help = "Shows the recipe as it is given, wheat or gluten-free; 'unwheat rework' shows the leavening of the gluten-free version.\nGas is by the gas law, soda and acid by weight; the acid of a food is a range.\n\nExamples:\n  unwheat leaven examples/sunday-pancakes.txt\n  unwheat leaven examples/lemon-yoghurt-cake.txt --locale uk --altitude 1524"
)]
pub struct Leaven {
    #[command(flatten)]
    input: Input,
    /// Metres above the sea, from 0 to 6000: corrects leavening, sugar and liquid
    #[arg(long, value_name = "METRES", value_parser = Altitude::read)]
    altitude: Option<Altitude>,
}

impl Leaven {
    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        let formula = self.input.formula(larder)?;
        let parts: Vec<(String, Report, Vec<Corrected>)> = formula
            .components
            .iter()
            .enumerate()
            .map(|(at, c)| {
                let lines = lines_of(&formula, at);
                let up = self
                    .altitude
                    .as_ref()
                    .map_or_else(Vec::new, |a| at_altitude(&lines, larder, a));
                (
                    c.name.clone(),
                    Report::of_component(&formula, at, larder),
                    up,
                )
            })
            .collect();
        let title = formula.recipe.title.as_deref();
        Ok(if self.input.json {
            json(&show::json::leaven(
                title,
                &parts,
                self.altitude.as_ref(),
                larder,
            ))
        } else {
            let named: Vec<show::leaven::Named<'_>> = parts
                .iter()
                .map(|(name, report, up_there)| show::leaven::Named {
                    name,
                    report,
                    up_there,
                })
                .collect();
            show::leaven::leaven(
                title,
                &named,
                self.altitude.as_ref(),
                larder,
                self.input.locale,
                &show::Style::of_terminal(),
            )
        })
    }
}
