//! What was learnt as an assumption file, to be laid over the others, and what is lost on the way.
//!
//! An assumption file holds each unknown by itself: 5 %, 50 % and 95 % points. What a log knows only of several
//! together does not fit in; the loss is measured by working the odds out from the file.

use super::cells::{Plan, Simulated};
use super::changes::Change;
use super::sampler::{FitError, LogModel, plain_scores};
use super::{DAY_SPREAD, Learnt, PER_CAST, mean_chance};
use crate::engine::Control;
use crate::engine::{Budget, Strikes};
use crate::models::{Models, Parameter, Spread};
use crate::random::{Purpose, key, stream};
use crate::statistics::estimate::Estimate;
use crate::study::over_worlds;
use crate::world::Prepared;
use rand::RngExt;

/// Where a file of what was learnt comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Origin {
    /// Name of the log.
    pub log: String,
    /// Its rows.
    pub rows: usize,
    /// Name of the scenario.
    pub scenario: String,
    /// Assumption files that were laid over the shipped ones.
    pub models: Vec<String>,
    /// Seed.
    pub seed: u64,
}

/// What working the odds out from the file gives, beside the weighted worlds.
#[derive(Debug, Clone, PartialEq)]
pub struct Loss {
    /// Strikes per 100 passes of each bait of today's box, by the file.
    pub baits: Vec<Estimate>,
    /// Strikes per 100 casts like those of the log, by the file.
    pub level: Estimate,
}

/// The unknowns that moved, as they are after.
pub fn parameters(learnt: &Learnt, origin: &Origin) -> Vec<Parameter> {
    let one = |c: &Change| {
        let [low, default, high] = c.after.map(six_digits);
        let source =
            format!("learnt from {} ({} casts); before: {}", origin.log, learnt.casts, c.parameter.source);
        Parameter { low, default, high, source, ..c.parameter.clone() }
    };
    learnt.changed.iter().map(one).collect()
}

/// Six digits: more than any log gives.
fn six_digits(x: f64) -> f64 {
    format!("{x:.5e}").parse().unwrap_or(x)
}

/// The first line of every such file.
pub const MARK: &str = "What a log of casts says, to be laid over the assumptions with --model.";

/// The text of the file.
pub fn text(learnt: &Learnt, origin: &Origin) -> String {
    let fit = &learnt.fit;
    let mut out = String::new();
    let mut comment = |line: String| {
        // A file's name must not end the comment.
        let line = crate::scenario::diagnostic::printable(&line).replace(['\n', '\r', '\t'], " ");
        out.push_str(&format!("# {line}\n"));
    };
    comment(MARK.into());
    comment(format!(
        "log: {}, {} rows, {} days, {} casts, {} strikes",
        origin.log, origin.rows, learnt.days, learnt.casts, learnt.strikes
    ));
    comment(format!("scenario: {}", origin.scenario));
    for file in &origin.models {
        comment(format!("give these first, they were laid over before: --model {file}"));
    }
    comment(format!(
        "callup {}, seed {}, {} worlds worth {:.0}, k-hat {:.2}",
        env!("CARGO_PKG_VERSION"),
        origin.seed,
        fit.worlds.len(),
        fit.effective,
        fit.k_hat
    ));
    comment("Each unknown stands by itself: what the log knows only of several together is lost.".into());
    for p in parameters(learnt, origin) {
        out.push_str(&entry(&p));
    }
    out
}

fn entry(p: &Parameter) -> String {
    let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
    let spread = match p.spread {
        Spread::Lognormal => "lognormal",
        Spread::Normal => "normal",
        Spread::Share => "share",
        Spread::Fixed => "fixed",
        Spread::Choice => "choice",
    };
    let mut out = format!(
        "\n[[parameter]]\nname = {}\nmeans = {}\nlow = {:?}\ndefault = {:?}\nhigh = {:?}\nspread = \"{spread}\"\n",
        quoted(&p.name),
        quoted(&p.means),
        p.low,
        p.default,
        p.high
    );
    for (key, limit) in [("least", p.least), ("most", p.most)] {
        if limit.is_finite() {
            out.push_str(&format!("{key} = {limit:?}\n"));
        }
    }
    out.push_str(&format!(
        "unit = {}\ngrade = \"{}\"\ngroup = \"{}\"\n",
        quoted(&p.unit),
        p.grade.name(),
        p.group.name()
    ));
    if let Some(product) = &p.product {
        out.push_str(&format!("product = {}\n", quoted(product)));
    }
    for (key, set) in [("alternative", p.alternative), ("lowers", p.lowers)] {
        if set {
            out.push_str(&format!("{key} = true\n"));
        }
    }
    out.push_str(&format!("source = {}\n", quoted(&p.source)));
    out
}

/// Worlds in which the log's casts are worked out from the file.
const LOG_WORLDS: usize = 256;

/// Works today's odds and the log's strikes per cast out from the file alone.
///
/// # Errors
/// [`FitError`]: stopped, or models incomplete.
pub fn loss(
    learnt: &Learnt,
    (plan, today): (&Plan, &Prepared),
    models: &Models,
    origin: &Origin,
    budget: Budget,
    control: &Control,
) -> Result<Loss, FitError> {
    let mut laid_over = models.clone();
    for own in parameters(learnt, origin) {
        if let Some(i) = laid_over.index(&own.name) {
            laid_over.parameters[i] = own;
        }
    }
    let table = Strikes::of(&laid_over, std::slice::from_ref(today), budget, control)?;
    if control.stopped() {
        return Err(FitError::Stopped);
    }
    let per_100 = table.per_100(0);
    let bait = |b: usize| over_worlds(&per_100.row(b).to_vec(), table.per_scramble);
    let keys: Vec<u64> = laid_over.parameters.iter().map(|p| key(&p.name)).collect();
    let scores = plain_scores(&keys, budget.seed, LOG_WORLDS, 0);
    let p = Simulated::new(plan, &laid_over, budget, control).strikes(&scores)?;
    let get = |name: &str| laid_over.index(name).map(|i| &laid_over.parameters[i]);
    let per_cast =
        get(PER_CAST).filter(|_| learnt.per_cast.spread != Spread::Fixed).unwrap_or(&learnt.per_cast);
    let mut rng = stream(budget.seed, Purpose::Design, 0x10c);
    let mut values = Vec::new();
    for p in &p {
        let spread = get(DAY_SPREAD).map_or(0.0, |p| p.quantile(rng.random_range(0.001..0.999)));
        let a = per_cast.quantile(rng.random_range(0.001..0.999));
        values.push(100.0 * mean_chance(&plan.counts, p, a, spread));
    }
    let level = over_worlds(&values, values.len() / crate::models::draw::WORLD_SCRAMBLES);
    Ok(Loss { baits: (0..today.baits.len()).map(bait).collect(), level })
}
