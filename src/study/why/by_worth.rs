//! What to find out first: the unknowns by what knowing them would be worth over several waters, each with what it is
//! and what would settle it.

use super::waters::{self, Measured, Unknown, Waters};
use super::{Kind, WhyError};
use crate::engine::Control;
use crate::models::{Experiments, Grade, Models, Parameter};
use crate::study::{Context, Study, Unanswered};
use crate::world::Prepared;
use serde::{Serialize, Serializer};
use serde_json::{Value, json};

/// What an unknown is and what would settle it.
#[derive(Debug, Clone, PartialEq)]
pub struct Described {
    /// Name for programs.
    pub name: String,
    /// What it is, in a few words.
    pub means: String,
    /// How well it is known: the lowest grade of its members.
    pub grade: Grade,
    /// The parameter, where it is one.
    pub parameter: Option<Parameter>,
    /// Where it comes from.
    pub source: String,
    /// What would settle it.
    pub experiment: String,
    /// The assumptions in it.
    pub members: Vec<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct ByWorth {
    /// What was found.
    pub found: Waters,
    /// Each unknown, in the order of worth.
    pub unknowns: Vec<(Unknown, Described)>,
    /// Whether all are to be shown.
    pub all: bool,
}

/// What to find out first, over several waters.
#[derive(Debug, Clone, PartialEq)]
pub struct ByWorthOf {
    /// The waters by name.
    pub waters: Vec<(String, Prepared)>,
    /// Whether all are to be shown.
    pub all: bool,
}

impl Study for ByWorthOf {
    const NAME: &'static str = "assumptions";
    const USUAL: (usize, usize) = (waters::DRAWS, waters::POINTS);
    type Answer = ByWorth;

    fn steps(&self, on: &Context) -> usize {
        waters::steps(on.models, on.budget, self.waters.len())
    }

    fn run(&self, on: &Context, control: &Control) -> Result<ByWorth, Unanswered> {
        if on.budget.fixed {
            let help = "leave --fixed out: what is not drawn cannot be found out";
            return Err(Unanswered::Input(WhyError::Fixed.to_string(), help.into()));
        }
        let experiments = Experiments::embedded()?;
        let found = waters::over(on.models, &self.waters, on.budget, control)?;
        let both = |u: &Unknown| (u.clone(), described(&u.kind, on.models, &experiments));
        Ok(ByWorth { unknowns: found.unknowns.iter().map(both).collect(), found, all: self.all })
    }
}

fn described(kind: &Kind, models: &Models, experiments: &Experiments) -> Described {
    let name = kind.name(models);
    let settling = experiments.settling(&name);
    let experiment = settling.map_or("none is described yet".to_owned(), |e| e.text.clone());
    let parameter = match kind {
        Kind::Parameter(d) => models.parameters.get(*d).cloned(),
        _ => None,
    };
    let product = || models.parameters.iter().filter(|p| p.product.is_some());
    let together = "drawn together and known only as a product, calibrated to catch rates; each has a source of its \
        own in `callup assumptions`";
    Described {
        means: kind.means(models),
        grade: match &parameter {
            Some(p) => p.grade,
            None => product().map(|p| p.grade).max().unwrap_or(Grade::Guess),
        },
        source: parameter.as_ref().map_or(together.to_owned(), |p| p.source.clone()),
        members: match &parameter {
            Some(_) => vec![name.clone()],
            None => product().map(|p| p.name.clone()).collect(),
        },
        name,
        parameter,
        experiment,
    }
}

impl Serialize for ByWorth {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let waters = &self.found.waters;
        let measured =
            |m: Measured| json!({ "mean": m.mean, "simulation_se": m.se, "stands_out": m.stands_out });
        let unknown = |(k, (u, said)): (usize, &(Unknown, Described))| {
            json!({
                "rank": k + 1,
                "name": said.name,
                "means": said.means,
                "grade": said.grade,
                "members": said.members,
                "total_share": measured(u.share),
                "worth_of_strikes": measured(u.worth),
                "waters": u.waters,
                "most_share": u.most,
                "most_in": waters.get(u.most_in).map(|w| &w.name),
                "source": said.source,
                "experiment": said.experiment,
            })
        };
        let water = |w: &waters::Water| {
            json!({
                "name": w.name, "leader": w.leader, "strikes_per_100": w.strikes,
                "perfect_information_of_strikes": w.evpi,
            })
        };
        json!({
            "by_worth": self.unknowns.iter().enumerate().map(unknown).collect::<Vec<Value>>(),
            "waters": waters.iter().map(water).collect::<Vec<Value>>(),
            "floor": self.found.floor,
            "complete": waters.len() == self.found.asked,
        })
        .serialize(to)
    }
}
