//! Rules of thumb: files, verdicts on made-up tables, where rules turn, and the embedded rules on the model.

use callup::engine::Control;
use callup::engine::{Budget, Strikes};
use callup::models::{Group, Groups, Models};
use callup::random::{Purpose, mix};
use callup::scenario::{Catalogue, Diagnostic, library};
use callup::statistics::verdict::{Unclear, Verdict};
use callup::study::attribution::{Explained, Flag, Worth};
use callup::study::rules::plan::{Ground, Paces, Plan, Planned};
use callup::study::rules::reading::{Differences, judge, read};
use callup::study::rules::table::{Struck, Workshop};
use callup::study::rules::{Claim, EMBEDDED, EMBEDDED_FILE, Rule, answer, design, file, flip};

const NOISE: Verdict = Verdict::CannotTell(Unclear::SimulationNoise);
const DISAGREE: Verdict = Verdict::CannotTell(Unclear::AssumptionsDisagree);

fn models() -> Models {
    Models::embedded().expect("the embedded models are whole")
}

fn rules_of(text: &str) -> Result<Vec<Rule>, Vec<Diagnostic>> {
    file::read(text, "my.toml", &Catalogue::of(&models()))
}

fn planned(rules: Vec<Rule>, overrides: &[(String, String)]) -> Result<Plan, Vec<Diagnostic>> {
    let source = library::get(library::DEFAULT).expect("the default scenario is embedded");
    let ground = Ground { source, file: "scenario.toml", overrides, rule_file: "my.toml" };
    Plan::new(rules, &ground, &models())
}

fn embedded(ids: &[&str]) -> Vec<Rule> {
    let all =
        file::read(EMBEDDED, EMBEDDED_FILE, &Catalogue::of(&models())).expect("the embedded rules are sound");
    let chosen: Vec<Rule> =
        all.into_iter().filter(|r| ids.is_empty() || ids.contains(&r.id.as_str())).collect();
    assert!(ids.is_empty() || chosen.len() == ids.len(), "a rule of {ids:?} is gone");
    chosen
}

const GOOD: &str = r#"
[[rule]]
id = "bright-or-dull"
says = "Bright beats dull"
bait = "110 mm, standard lip, silent"
side_a = { name = "mirror", bait.finish = "mirror" }
side_b = { name = "bluegill", bait.finish = "bluegill" }
always = { bait.runs = "2 m" }
conditions = ["water.secchi=1m..6m", "fish.depth=2.5m..6m", "fish.pressure=light,heavy"]
literature = "untested"
"#;

/// Differences without any luck in them: point of the conditions, world.
fn made_up(conditions: usize, worlds: usize, of: impl Fn(usize, usize) -> f64) -> Differences {
    let by_condition: Vec<Vec<f64>> =
        (0..conditions).map(|c| (0..worlds).map(|w| of(c, w)).collect()).collect();
    let mean =
        (0..worlds).map(|w| by_condition.iter().map(|c| c[w]).sum::<f64>() / conditions as f64).collect();
    Differences { by_condition, mean, standard_error: vec![0.0; worlds], per_scramble: worlds / 8 }
}

#[test]
fn a_rule_true_in_just_seven_worlds_of_ten() {
    let d = made_up(4, 1000, |_, w| if w % 10 < 7 { 3.0 } else { -3.0 });
    let r = judge(Claim::More, 1.0, &d).expect("numbers are finite");
    assert_eq!((r.verdict, r.holds_share, r.matters_share, r.against_share), (DISAGREE, 0.7, 0.7, 0.3));
    assert_eq!(r.effect.point, 3.0);
    assert_eq!((r.effect.low, r.effect.high), (-3.0, 3.0));
}

#[test]
fn verdicts_of_made_up_tables() {
    let of = |claim, d: Differences| judge(claim, 1.0, &d).expect("numbers are finite").verdict;
    assert_eq!(of(Claim::More, made_up(4, 512, |_, _| 2.0)), Verdict::Holds);
    assert_eq!(
        of(Claim::More, made_up(4, 512, |_, w| if w % 2 == 0 { 2.0 } else { 0.5 })),
        Verdict::HoldsWeakly
    );
    assert_eq!(of(Claim::More, made_up(4, 512, |_, _| -2.0)), Verdict::Reversed);
    assert_eq!(
        of(Claim::More, made_up(4, 512, |_, w| 0.9 * ((w % 3) as f64 - 1.0))),
        Verdict::NoDifferenceThatMatters
    );
    // Which side leads is settled by the condition; the mean of each world says nothing.
    let by_condition = |c: usize, w: usize| {
        (if c.is_multiple_of(2) { 4.0 } else { -4.0 }) + if w.is_multiple_of(2) { 1.5 } else { -1.5 }
    };
    assert_eq!(of(Claim::More, made_up(8, 512, by_condition)), Verdict::DependsOnConditions);
    // The same with the world settling it.
    let by_world = |c: usize, w: usize| by_condition(w, c);
    assert_eq!(of(Claim::More, made_up(8, 512, by_world)), DISAGREE);
    // Sizes cancel in a mean; a rule that claims no difference is not taken in by that.
    assert_eq!(
        of(Claim::Same, made_up(8, 512, |c, _| if c % 2 == 0 { 4.0 } else { -4.0 })),
        Verdict::Reversed
    );
    assert_eq!(of(Claim::Same, made_up(8, 512, |_, _| 0.4)), Verdict::Holds);
    assert_eq!(of(Claim::Same, made_up(8, 512, |_, w| if w % 2 == 0 { 0.4 } else { 3.0 })), DISAGREE);
    // Noise as large as the difference.
    let mut noisy = made_up(4, 512, |_, _| 2.0);
    noisy.standard_error = vec![2.0; 512];
    assert_eq!(of(Claim::More, noisy), NOISE);
    // One world at its defaults is taken at its word.
    assert_eq!(of(Claim::More, made_up(4, 1, |_, _| 2.0)), Verdict::Holds);
}

/// Worlds in which the effect comes when all of `needed` act and not otherwise.
fn worth(per_100: f64, needed: &[Group]) -> Vec<Worth> {
    let mut one = [0.0; Groups::COUNT];
    for set in Groups::every() {
        if needed.iter().all(|g| set.has(*g)) {
            one[set.number()] = per_100;
        }
    }
    vec![one; 16]
}

#[test]
fn flags_of_made_up_rules_and_shares_that_add_up() {
    let flag = |worths: &[Worth]| Explained::of(worths, 2, 1.0).expect("numbers are finite");
    assert_eq!(flag(&worth(3.0, &[Group::Optics])).flag, Flag::Physics);
    assert_eq!(flag(&worth(3.0, &[Group::Sound])).flag, Flag::Restates(Group::Sound));
    assert_eq!(flag(&worth(0.0, &[Group::Sound])).flag, Flag::NoDifference);
    let mixed = flag(&worth(3.0, &[Group::Optics, Group::Sound, Group::Size]));
    assert_eq!(mixed.flag, Flag::Mixed);
    let sum: f64 = mixed.shares.iter().map(|s| s.per_100).sum();
    // Rounding of seven sums over 128 sets.
    assert!((sum - 3.0).abs() < 1e-12, "{sum}");
}

#[test]
fn a_direction_that_is_lost_on_the_way_holds_weakly_at_most() {
    let text =
        GOOD.replace("side_a = { name = \"mirror\", bait.finish = \"mirror\" }", "direction = \"falls\"");
    let text = text.replace(
        "side_b = { name = \"bluegill\", bait.finish = \"bluegill\" }",
        "over = \"sky.wind=0..6m/s:3\"",
    );
    let rule = rules_of(&text).expect("the file is sound").remove(0);
    assert_eq!(rule.levels().len(), 3);
    let struck = |levels: [f64; 3]| Struck {
        levels: levels.iter().map(|&l| vec![vec![[l; 4]; 256]; 2]).collect(),
        per_scramble: 32,
        ..Struck::default()
    };
    let verdict = |levels| {
        let struck = struck(levels);
        let reading = read(&rule, &struck, &Differences::of(&struck)).expect("numbers are finite");
        (reading.verdict, reading.steps_share)
    };
    assert_eq!(verdict([9.0, 6.0, 3.0]), (Verdict::Holds, Some(1.0)));
    assert_eq!(verdict([9.0, 2.0, 3.0]), (Verdict::HoldsWeakly, Some(0.0)));
    assert_eq!(verdict([3.0, 6.0, 9.0]), (Verdict::Reversed, Some(0.0)));
}

/// A rule that turns round in a known corner: the box finds it to within the distance of neighbouring points.
#[test]
fn the_box_finds_a_known_corner() {
    let rule = rules_of(GOOD).expect("the file is sound").remove(0);
    let points = 256;
    let design = design::points(&rule.conditions, points);
    let at = |i: usize, d: usize| design.coordinate(&rule.conditions, i, d);
    let corner = |i: usize| at(i, 0) < 3.0 && at(i, 1) > 4.0;
    let d = made_up(points, 128, |i, _| if corner(i) { -2.0 } else { 3.0 });
    let reading = judge(Claim::More, 1.0, &d).expect("numbers are finite");
    assert_eq!(reading.verdict, Verdict::Holds);
    let flip = flip::find(&rule, &design, &d, &reading).expect("numbers are finite");
    let found = flip.found.clone().expect("it turns somewhere");
    assert!(flip.is_told() && flip.fails_there);
    assert!(found.coverage > 0.95 && found.density > 0.95, "{found:?}");
    let limit = |name: &str| found.limits.iter().find(|l| l.name == name).expect("the corner has both sides");
    // A stratified coordinate has a point in every 256th of its range, and the corner holds a quarter of them.
    let step = |range: f64| 8.0 * range / points as f64;
    let (secchi, depth) =
        (limit("water.secchi").high.expect("open below"), limit("fish.depth").low.expect("open above"));
    assert!(secchi <= 3.0 && secchi > 3.0 - step(5.0), "{secchi}");
    assert!(depth >= 4.0 && depth < 4.0 + step(3.5), "{depth}");
    assert!((flip.effect_there + 2.0).abs() < 0.3, "{}", flip.effect_there);
    // The word that plays no part explains nothing, the two numbers do.
    assert!(flip.matters[2] < 0.05 && flip.matters[0] > 0.1 && flip.matters[1] > 0.1, "{:?}", flip.matters);
}

#[test]
fn conditions_are_filled_evenly() {
    let rule = rules_of(GOOD).expect("the file is sound").remove(0);
    let design = design::points(&rule.conditions, 64);
    let heavy =
        (0..64).filter(|&i| design.overrides(i).contains(&("fish.pressure".into(), "heavy".into()))).count();
    assert_eq!(heavy, 32, "each word of a set comes equally often");
    for (d, (low, high)) in [(0, (1.0, 6.0)), (1, (2.5, 6.0))] {
        let mut seen = [0; 64];
        (0..64).for_each(|i| {
            let share = (design.coordinate(&rule.conditions, i, d) - low) / (high - low);
            seen[(share * 64.0) as usize] += 1;
        });
        assert!(seen.iter().all(|n| *n == 1), "{seen:?}");
    }
}

#[test]
fn faults_of_rule_files_have_a_place_and_a_remedy() {
    let change = |from: &str, to: &str| {
        assert!(GOOD.contains(from), "{from}");
        GOOD.replace(from, to)
    };
    let a = "side_a = { name = \"mirror\", bait.finish = \"mirror\" }\n";
    let cases: &[(String, &str, (usize, usize))] = &[
        (change(a, ""), "lacks side_a", (2, 1)),
        (change("id = \"bright-or-dull\"\n", ""), "has no `id`", (2, 1)),
        (change("literature = \"untested\"\n", ""), "literature", (2, 1)),
        (change("\"bluegill\" }", "\"mirror\" }"), "the two sides are the same", (7, 10)),
        (change("1m..6m", "6m..6m"), "has one value only", (9, 15)),
        (change("water.secchi=", "water.sechi="), "nothing called `water.sechi`", (9, 15)),
        (change("fish.depth=2.5m..6m", "bait.finish=all"), "contradict", (9, 38)),
        (change("fish.depth=2.5m..6m", "water.secchi=1m..2m"), "two conditions on water.secchi", (9, 38)),
        (change("says =", "sais ="), "no key `sais`", (4, 1)),
        (change("bait.runs = \"2 m\"", "bait.finish = \"pearl\""), "always one thing", (8, 26)),
        (change("\"untested\"", "\"proven\""), "`literature` cannot be `proven`", (10, 14)),
        (change("always =", "points = 3\nalways ="), "`points` is out of range", (8, 10)),
        (change("[[rule]]", "[rule]"), "`rule` is a list", (2, 2)),
        (change(a, "direction = \"falls\"\nover = \"sky.wind=0..6m/s:3\"\n"), "either two sides", (6, 1)),
        (format!("{GOOD}{GOOD}"), "two rules are called", (12, 1)),
        (String::new(), "there is no rule", (1, 1)),
    ];
    for (text, title, place) in cases {
        let faults = rules_of(text).expect_err(title);
        let fault = faults.iter().find(|f| f.title.contains(title));
        let fault = fault.unwrap_or_else(|| panic!("no fault `{title}` among {faults:#?}"));
        assert_eq!(fault.line_column(text), Some(*place), "{title}");
        assert!(!fault.help.is_empty(), "{title}");
    }
    // All at once.
    let both = change("1m..6m", "6m..6m").replace("id = \"bright-or-dull\"\n", "");
    assert_eq!(rules_of(&both).expect_err("two faults").len(), 2);
}

#[test]
fn faults_that_only_the_scenario_knows_are_told_in_the_rule_file() {
    let cases = [
        ("110 mm, standard lip, silent", "111 mm, golden lip", "golden lip", 5),
        ("\"bluegill\" }", "\"blugill\" }", "blugill", 7),
        ("fish.depth=2.5m..6m", "fish.depth=11m..60m", "rule bright-or-dull", 9),
        ("bait.runs = \"2 m\"", "bait.run = \"2 m\"", "bait.run", 8),
        ("110 mm, standard lip, silent", "all", "", 5),
    ];
    for (from, to, title, line) in cases {
        let text = GOOD.replace(from, to);
        let faults = planned(rules_of(&text).expect("well formed"), &[]).expect_err(to);
        let fault = faults.iter().find(|f| f.title.contains(title));
        let fault = fault.unwrap_or_else(|| panic!("no fault `{title}` among {faults:#?}"));
        assert_eq!(fault.file, "my.toml");
        assert_eq!(fault.line_column(&text).map(|p| p.0), Some(line), "{fault:#?}");
        assert!(!fault.help.is_empty(), "{to}");
    }
    // Sides that differ in words but not in anything that the fish meets.
    let text = GOOD.replace(
        "name = \"bluegill\", bait.finish = \"bluegill\"",
        "bait.finish = \"mirror\", bait.sound = \"silent\"",
    );
    let faults = planned(rules_of(&text).expect("well formed"), &[]).expect_err("the same");
    assert!(faults[0].title.contains("come to the same"), "{faults:#?}");
}

/// Budget of the quick tests.
fn quick(draws: usize, points: usize) -> Budget {
    Budget { seed: 1, worlds: draws, passes: points, fixed: false }
}

fn struck(plan: &Plan, rule: &Planned, budget: Budget) -> Struck {
    let models = models();
    let mut workshop = Workshop::new(plan, &models, budget).expect("the models are whole");
    workshop.struck(rule, &Control::default()).expect("nobody stops it")
}

/// Sides that differ in nothing a fish meets share every pass: no difference, to the bit, and no luck.
#[test]
fn equal_sides_share_their_luck() {
    let text = GOOD
        .replace("bait.finish = \"mirror\"", "fish.density = \"10 per ha\"")
        .replace("bait.finish = \"bluegill\"", "fish.density = \"20 per ha\"");
    let plan = planned(rules_of(&text).expect("well formed"), &[]).expect("possible");
    let d = Differences::of(&struck(&plan, &plan.rules[0], quick(16, 64)));
    assert!(d.mean.iter().chain(&d.standard_error).all(|v| *v == 0.0));
    assert_eq!(judge(Claim::Same, 1.0, &d).expect("finite").effect.point, 0.0);
}

/// Common passes: the luck of a difference is far below that of two sides with passes of their own.
#[test]
fn common_passes_make_differences_sharp() {
    let plan = planned(embedded(&["longer-cast"]), &[]).expect("possible");
    let s = struck(&plan, &plan.rules[0], quick(32, 64));
    let d = Differences::of(&s);
    let own = |level: &Vec<Vec<[f64; 4]>>| {
        let zero = vec![vec![[0.0; 4]; 32]; level.len()];
        Differences::of(&Struck { levels: vec![level.clone(), zero], per_scramble: 4, ..Struck::default() })
            .standard_error
    };
    let (a, b) = (own(&s.levels[0]), own(&s.levels[1]));
    let apart: f64 = a.iter().zip(&b).map(|(a, b)| (a * a + b * b).sqrt()).sum();
    let together: f64 = d.standard_error.iter().sum();
    assert!(together < 0.8 * apart, "{together} against {apart}");
}

/// At the first point of a rule both sides hold just what a strike table holds for those conditions.
#[test]
fn the_first_point_is_that_of_the_strike_table() {
    let plan = planned(rules_of(GOOD).expect("well formed"), &[]).expect("possible");
    let budget = quick(16, 64);
    let s = struck(&plan, &plan.rules[0], budget);
    let place = plan.rules[0].cells[0][0];
    let settings = &plan.settings[place.prepared..=place.prepared];
    let table = Strikes::of(&models(), settings, budget, &Control::default()).expect("whole");
    for w in 0..16 {
        let mean = s.levels[0][0][w].iter().sum::<f64>() / 4.0;
        // The same numbers in another order of sums.
        assert!((mean - 100.0 * table.struck()[(0, place.bait, w)]).abs() < 1e-9, "{w}");
    }
    // Both sides stand in one setting: the world is worked out once for both.
    assert_eq!(plan.settings.len(), 64);
}

#[test]
fn values_of_the_user_hold_and_conditions_on_them_are_dropped() {
    let set = [("fish.pressure".to_owned(), "heavy".to_owned())];
    let plan = planned(rules_of(GOOD).expect("well formed"), &set).expect("possible");
    assert_eq!(plan.rules[0].rule.conditions.len(), 2);
    assert!(plan.settings.iter().all(|s| s.pressure == 3));
}

/// Rules that ask the same of the same water share its settings.
#[test]
fn rules_share_what_they_have_in_common() {
    let one = planned(embedded(&["flash-over-mirror"]), &[]).expect("possible");
    let two = planned(embedded(&["flash-over-mirror", "flash-over-see-through"]), &[]).expect("possible");
    assert_eq!(one.settings.len(), two.settings.len());
}

/// Every embedded rule can be tried at every point, and there are enough of them.
#[test]
fn the_embedded_rules_are_possible() {
    let rules = embedded(&[]);
    assert!(rules.len() >= 20, "{}", rules.len());
    assert!(rules.iter().all(|r| !r.source.is_empty()), "each says where its literature stands");
    let plan = planned(rules, &[]).expect("every condition is possible");
    assert!(plan.rules.iter().all(|r| r.cells.iter().all(|level| level.len() == r.rule.points)));
}

/// Four times the passes change no verdict but into or out of "cannot tell: simulation noise".
#[test]
fn verdicts_are_stable_under_four_times_the_passes() {
    let ids =
        ["every-foot-costs", "see-through-in-sun", "white-or-chartreuse", "thinner-line", "rod-tip-down"];
    let plan = planned(embedded(&ids), &[]).expect("possible");
    let mut decided = 0;
    for rule in &plan.rules {
        let verdict = |points| {
            let s = struck(&plan, rule, quick(128, points));
            read(&rule.rule, &s, &Differences::of(&s)).expect("finite").verdict
        };
        let (few, many) = (verdict(64), verdict(256));
        assert!(few == many || few == NOISE || many == NOISE, "{}: {few:?} {many:?}", rule.rule.id);
        decided += usize::from(few == many && few != NOISE);
    }
    assert!(decided >= 3, "only {decided} of the five were decided at all");
}

/// A stopped run has answered nothing and does not fail; the answers are the same for any order of asking.
#[test]
fn stopping_and_repeating() {
    let models = models();
    let plan = planned(embedded(&["thinner-line", "white-or-chartreuse"]), &[]).expect("possible");
    let control = Control::default();
    control.stop();
    assert_eq!(answer::answers(&plan, &models, quick(16, 64), false, &control), Ok(Vec::new()));
    let both = answer::answers(&plan, &models, quick(16, 64), false, &Control::default()).expect("whole");
    assert_eq!(both.len(), 2);
    let alone = planned(embedded(&["white-or-chartreuse"]), &[]).expect("possible");
    let alone = answer::answers(&alone, &models, quick(16, 64), false, &Control::default()).expect("whole");
    assert_eq!(both[1].reading, alone[0].reading);
    assert_eq!(both[1].rests_on, alone[0].rests_on);
    assert_ne!(
        mix(1, Purpose::Design, 0),
        mix(1, Purpose::Encounters, 0),
        "conditions and passes are independent"
    );
}

/// Both sides in two conditions and 256 worlds, without any luck in them.
fn level(strikes: f64) -> Vec<Vec<[f64; 4]>> {
    vec![vec![[strikes; 4]; 256]; 2]
}

/// Twice the strikes in a pass, a third of the passes in an hour: ahead by the pass, behind by the hour.
#[test]
fn slowness_costs_casts() {
    let rule = rules_of(GOOD).expect("the file is sound").remove(0);
    let by_the_pass = Struck { levels: vec![level(8.0), level(4.0)], per_scramble: 32, ..Struck::default() };
    let by_the_hour = Struck {
        paces: Some(Paces { levels: vec![vec![0.5; 2], vec![1.5; 2]], over: vec![] }),
        passes_per_hour: vec![50.0; 256],
        ..by_the_pass.clone()
    };
    let read = |s: &Struck| read(&rule, s, &Differences::of(s)).expect("numbers are finite");
    let (pass, hour) = (read(&by_the_pass), read(&by_the_hour));
    assert_eq!((pass.verdict, pass.effect.point, pass.per_hour), (Verdict::Holds, 4.0, None));
    assert_eq!((hour.verdict, hour.effect.point), (Verdict::Reversed, -2.0));
    // 8 in 100 passes of which an hour has half of 50; 4 in 100 of which it has one and a half times 50.
    assert_eq!(hour.per_hour, Some([2.0, 3.0]));
    assert_eq!(hour.levels, [8.0, 4.0]);
}

/// 6 against 4 here, 4.5 against 4 or 8 against 4 elsewhere: the gain here is 1.5 against 1.125 or 2.
#[test]
fn a_gain_is_held_against_the_gain_elsewhere() {
    let rule = rules_of(GOOD).expect("the file is sound").remove(0);
    let with = |over: f64| Struck {
        levels: vec![level(6.0), level(4.0)],
        over: vec![level(over), level(4.0)],
        per_scramble: 32,
        ..Struck::default()
    };
    let read = |s: &Struck| read(&rule, s, &Differences::of(s)).expect("numbers are finite");
    let (less, more) = (read(&with(4.5)), read(&with(8.0)));
    assert_eq!((less.verdict, less.effect.point), (Verdict::Holds, 1.5));
    assert_eq!((more.verdict, more.effect.point), (Verdict::Reversed, -2.0));
    assert_eq!(less.gains.map(|g| g.map(|e| e.point)), Some([1.5, 1.125]));
    // Nothing drawn elsewhere on either side: no gain, and the sides as they are.
    let mut none = with(0.0);
    none.over[1] = level(0.0);
    assert_eq!(read(&none).effect.point, 2.0);
    // At equal time: A at half the pace here and there leaves the gains in proportion.
    let slow = Struck {
        paces: Some(Paces {
            levels: vec![vec![0.5; 2], vec![1.0; 2]],
            over: vec![vec![0.5; 2], vec![1.0; 2]],
        }),
        ..with(4.5)
    };
    assert_eq!(read(&slow).effect.point, 0.75);
}

/// The luck of a ratio, against a closed form: d = a - b r with r = a'/b', in scrambles of known spread.
#[test]
fn the_luck_of_a_gain_counts() {
    let elsewhere = |s: [f64; 4]| vec![vec![s; 256]; 2];
    let struck = Struck {
        levels: vec![level(6.0), level(4.0)],
        over: vec![elsewhere([4.5, 5.5, 4.5, 5.5]), level(4.0)],
        per_scramble: 32,
        ..Struck::default()
    };
    let d = Differences::of(&struck);
    // b/b' = 1: the scrambles of d vary as those of a', by 0.5 about their mean of 5.
    let expected = 0.5 / 3.0_f64.sqrt();
    assert!((d.mean[0] - 1.0).abs() < 1e-12 && (d.standard_error[0] - expected).abs() < 1e-12, "{d:?}");
}

const COLD: &str = r#"
[[rule]]
id = "pauses-in-the-cold"
says = "Longer pauses in the cold"
bait = "110 mm, standard lip, silent"
side_a = { name = "long pauses", tackle.pause = 0.8 }
side_b = { name = "short pauses", tackle.pause = 0.3 }
always = { bait.runs = "2 m" }
conditions = ["water.temperature=4C..10C", "fish.depth=2.5m..6m"]
gain_over = { water.temperature = "24 C" }
literature = "untested"
"#;

#[test]
fn a_gain_is_compared_with_other_conditions_and_at_equal_time() {
    let plan = planned(rules_of(COLD).expect("well formed"), &[]).expect("possible");
    let rule = &plan.rules[0];
    assert_eq!((rule.cells.len(), rule.over.len()), (2, 2));
    let warm = |p: &callup::study::rules::plan::Place| plan.settings[p.prepared].temperature_c;
    assert!(rule.over.iter().flatten().all(|p| warm(p) == 24.0));
    assert!(rule.cells.iter().flatten().all(|p| warm(p) <= 10.0));
    // A cast of 27 m at 0.8 m/s: 3600/(27/0.4 + 12) casts an hour with half pauses, and so on.
    let casts = |pause: f64| 3600.0 / (27.0 / (0.8 * (1.0 - pause)) + 12.0);
    let paces = rule.paces.as_ref().expect("pauses differ");
    for (levels, pause) in [(&paces.levels[0], 0.8), (&paces.over[1], 0.3)] {
        assert!(levels.iter().all(|p| (p / (casts(pause) / casts(0.5)) - 1.0).abs() < 1e-12), "{levels:?}");
    }
    // A finish changes no pace.
    let plan = planned(rules_of(GOOD).expect("well formed"), &[]).expect("possible");
    assert_eq!(plan.rules[0].paces, None);
    // Twice the cast passes twice the fish, in more than the time of one cast.
    let plan = planned(embedded(&["longer-cast"]), &[]).expect("possible");
    let paces = plan.rules[0].paces.as_ref().expect("casts differ");
    let per_hour = |cast: f64| cast / (cast / 0.4 + 12.0);
    assert!(
        (paces.levels[0][0] / paces.levels[1][0] / (per_hour(40.0) / per_hour(20.0)) - 1.0).abs() < 1e-12
    );
}

#[test]
fn gains_over_nothing_sensible_are_refused_at_their_place() {
    let gain = "gain_over = { water.temperature = \"24 C\" }";
    let refused = |with: &str| {
        let text = COLD.replace(gain, with);
        let found = rules_of(&text).and_then(|rules| planned(rules, &[])).expect_err(with);
        let at = found[0].span.clone().expect("a place");
        (found[0].title.clone(), text[at].to_owned())
    };
    let (title, at) = refused("gain_over = { water.temperature = \"8 C\" }");
    assert!(title.contains("the rule is claimed there") && at == "\"8 C\"", "{title} at {at}");
    let (title, at) = refused("gain_over = { water.temperature = \"24 kg\" }");
    assert!(at == "\"24 kg\"", "{title} at {at}");
    let (_, at) = refused("gain_over = { water.warmth = \"24 C\" }");
    assert_eq!(at, "\"24 C\"");
    let (title, at) = refused("gain_over = { tackle.pause = 0.5 }");
    assert!(title.contains("makes the sides") && at == "0.5", "{title} at {at}");
    let (title, _) = refused("gain_over = {}");
    assert!(title.contains("compared with nothing"), "{title}");
    let (title, at) = refused("gain_over = { water.bottom = \"12 m\" }");
    assert!(title.contains("where the rule is claimed") && at == "\"12 m\"", "{title} at {at}");
}

/// What a rule about a gain rests on is taken apart on the very differences it is judged by.
#[test]
fn what_a_gain_rests_on_adds_up_to_the_gain() {
    let text = COLD.replace("literature", "points = 12\nliterature");
    let plan = planned(rules_of(&text).expect("well formed"), &[]).expect("possible");
    let budget = quick(16, 64);
    let control = Control::default();
    let answers = answer::answers(&plan, &models(), budget, false, &control).expect("sound");
    let (one, parts) = (&answers[0], &answers[0].rests_on.explained);
    let mean = one.differences.mean.iter().sum::<f64>() / 16.0;
    // The points are those of the rule, the passes others.
    assert!((one.rests_on.total().per_100 - mean).abs() < 0.3 * mean.abs().max(1.0), "{mean} {parts:?}");
    let sum: f64 = parts.shares.iter().map(|s| s.per_100).sum();
    assert!((sum - parts.total().per_100).abs() < 1e-9);
    // With every group neutral both sides are one, here and there.
    assert!(parts.with_only(Groups::NONE).per_100.abs() < 1e-9);
}
