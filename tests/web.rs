//! What the page asks of the library, against what the program says; and `callup page`.

use assert_cmd::Command;
use serde_json::{Value, json};

fn callup(words: &[&str]) -> assert_cmd::assert::Assert {
    Command::cargo_bin("callup").expect("built").args(words).assert()
}

fn ask(request: &Value) -> Value {
    serde_json::from_str(&callup::web::answer(&request.to_string())).expect("an answer is JSON")
}

const A: &str = "90 mm, standard lip, silent, half-flash";
const B: &str = "110 mm, deep lip, rattling, mirror";

fn request(question: &str) -> Value {
    json!({
        "ask": question,
        "source": callup::scenario::library::get("main-lake-point").expect("there"),
        "set": [["fish.depth", "3 m"], ["water.tint", "clay"]],
        "baits": [{ "name": A }, { "name": B }],
        "draws": 32,
        "points": 64,
    })
}

fn program(command: &str, more: &[&str]) -> Value {
    let both = format!("box.use={A}; {B}");
    let mut words = vec![command, "main-lake-point", "--json", "--draws", "32", "--points", "64"];
    words.extend(["--set", "fish.depth=3 m", "--set", "water.tint=clay", "--set", &both]);
    words.extend(more);
    serde_json::from_slice(&callup(&words).success().get_output().stdout).expect("JSON")
}

#[test]
fn the_odds_are_the_programs_document() {
    let answer = ask(&request("odds"));
    assert_eq!(answer["odds"], program("odds", &[]));
    // Which leads and by how much follows from the same strikes.
    let ahead = answer["pair"]["ahead_share"].as_f64().expect("a share");
    assert!((0.0..=1.0).contains(&ahead));
    assert_eq!(answer["odds"]["baits"][0]["leads_share"].as_f64(), Some(ahead));
}

#[test]
fn a_sweep_is_the_programs_document() {
    let mut asked = request("sweep");
    asked["over"] = json!("clarity=0.5..6m:5");
    let answer = ask(&asked);
    let theirs = program("sweep", &["--over", "clarity=0.5..6m:5"]);
    assert_eq!(answer["sweep"]["cells"], theirs["cells"]);
    assert_eq!(answer["sweep"]["axes"], theirs["axes"]);
    assert_eq!(answer["axis"]["unit"], "m");
}

#[test]
fn the_stage_holds_what_is_drawn() {
    let answer = ask(&request("odds"));
    let stage = &answer["stage"];
    assert_eq!(stage["light"][0], json!([0.0, 1.0]));
    assert_eq!(stage["fish"]["depth_m"], 3.0);
    for bait in 0..2 {
        let runs = stage["baits"][bait]["runs_m"].as_f64().expect("a depth");
        assert_eq!(answer["odds"]["baits"][bait]["running_depth_m"].as_f64(), Some(runs));
        let seen = stage["baits"][bait]["seen"].as_array().expect("a list");
        assert!(seen.iter().all(|p| p[1].as_f64().is_some_and(|r| (0.0..50.0).contains(&r))));
        assert!(seen.first().is_some_and(|p| p[0] == -90.0) && seen.last().is_some_and(|p| p[0] == 90.0));
    }
    // The sun of the day: below the horizon at midnight, highest near noon.
    let sun = stage["sun_by_hour"].as_array().expect("a list");
    let high = |p: &Value| p[1].as_f64().expect("degrees");
    let noon = sun.iter().max_by(|a, b| high(a).total_cmp(&high(b))).expect("points");
    assert!(high(&sun[0]) < 0.0 && (12.0..14.5).contains(&noon[0].as_f64().expect("hours")), "{noon}");
}

#[test]
fn a_scenario_written_back_gives_the_same_odds() {
    let first = ask(&request("odds"));
    let again = json!({
        "ask": "odds", "source": first["toml"], "draws": 32, "points": 64,
        "baits": [{ "name": A }, { "name": B }],
    });
    assert_eq!(ask(&again)["odds"]["baits"], first["odds"]["baits"]);
}

#[test]
fn a_bait_of_the_files_own_box_is_compared_with_one_of_the_catalogue() {
    let mut asked = request("odds");
    asked["source"] = json!(callup::scenario::library::TEMPLATE);
    asked["set"] = json!([]);
    asked["baits"] = json!([{ "name": "the old one", "own": true }, { "name": B }]);
    let answer = ask(&asked);
    assert_eq!(answer["odds"]["baits"][0]["name"], "the old one");
    assert_eq!(answer["odds"]["baits"][1]["name"], B);
    asked["ask"] = json!("sweep");
    asked["over"] = json!("tint=all");
    assert_eq!(ask(&asked)["sweep"]["baits"], json!(["the old one", B]));
    asked["baits"][0]["name"] = json!("no such thing");
    assert!(ask(&asked)["error"].as_str().is_some_and(|e| e.contains("no such thing")));
}

#[test]
fn faults_come_back_with_their_places() {
    let mut asked = request("odds");
    asked["source"] = json!("[water]\nsecchi = \"3 furlongs\"\n");
    asked["file"] = json!("mine.toml");
    let answer = ask(&asked);
    let faults = answer["faults"].as_array().expect("faults");
    assert!(faults.len() > 3);
    let clarity = faults.iter().find(|f| f["line"] == 2).expect("the line is named");
    assert!(clarity["text"].as_str().is_some_and(|t| t.contains("mine.toml:2:") && t.contains("help:")));
    for nonsense in ["", "{}", "[1]", r#"{"ask":"odds","more":1}"#, r#"{"ask":"everything"}"#] {
        let text = callup::web::answer(nonsense);
        assert!(text.contains("error"), "{nonsense}: {text}");
    }
    let mut far = request("sweep");
    far["over"] = json!("clarety=1..2m");
    assert!(ask(&far)["error"].as_str().is_some_and(|e| e.contains("clarity")));
}

#[test]
fn a_budget_out_of_bounds_is_held() {
    let mut asked = request("odds");
    asked["draws"] = json!(0);
    asked["points"] = json!(0);
    let answer = ask(&asked);
    assert_eq!((&answer["odds"]["draws"], &answer["odds"]["points"]), (&json!(8), &json!(64)));
}

/// The place in the page for what it begins with.
const MARK: &str = "<script type=\"application/json\" id=\"begin\">";

#[test]
fn the_page_begins_with_the_scenario_given() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    std::fs::write(at("built.html"), format!("<p>{MARK}null</script></p>")).expect("written");
    let source =
        callup::scenario::library::TEMPLATE.replace("My water", "</script><script>alert(1)</script>");
    std::fs::write(at("mine.toml"), source).expect("written");
    callup(&[
        "page",
        &at("mine.toml"),
        "--set",
        "fish.depth=2 m",
        "--from",
        &at("built.html"),
        "-o",
        &at("out.html"),
    ])
    .success();
    let page = std::fs::read_to_string(at("out.html")).expect("written");
    let begin = page.strip_prefix(&format!("<p>{MARK}")).and_then(|p| p.strip_suffix("</script></p>"));
    let begin = begin.expect("one element and no more");
    assert!(!begin.contains('<'), "{begin}");
    let begin: Value = serde_json::from_str(begin).expect("JSON");
    let text = begin["source"].as_str().expect("a scenario");
    assert!(text.contains("depth = \"2 m\"") && text.contains("</script>"), "{text}");
    callup(&["page", "--from", &at("built.html"), "--units", "us", "-o", &at("plain.html")]).success();
    let plain = std::fs::read_to_string(at("plain.html")).expect("written");
    assert!(plain.contains("\"source\":null") && plain.contains("\"water\":null"), "{plain}");
    assert!(plain.contains("\"units\":\"us\""), "{plain}");
    // An embedded scenario goes by its name, so that the page can say what to type for its numbers.
    let words = [
        "page",
        "first-light",
        "--set",
        "sky.cloud=0.1",
        "--from",
        &at("built.html"),
        "-o",
        &at("named.html"),
    ];
    callup(&words).success();
    let named = std::fs::read_to_string(at("named.html")).expect("written");
    assert!(
        named.contains("\"water\":\"first-light\"") && named.contains("[\"sky.cloud\",\"0.1\"]"),
        "{named}"
    );
}

#[test]
fn what_is_no_page_or_no_scenario_is_refused_and_nothing_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    std::fs::write(at("other.html"), "<p>hello</p>").expect("written");
    for (words, said) in [
        (vec!["page", "--from", "OTHER", "-o", "OUT"], "no live page"),
        (vec!["page", "--from", "NONE", "-o", "OUT"], "src/web/build.sh"),
        (vec!["page", "no-such-water", "--from", "OTHER", "-o", "OUT"], "no-such-water"),
        (vec!["page", "--model", "OTHER", "--from", "OTHER", "-o", "OUT"], "--model"),
    ] {
        let named = [("OTHER", at("other.html")), ("NONE", at("none.html")), ("OUT", at("out.html"))];
        let words: Vec<String> = words
            .iter()
            .map(|w| named.iter().find(|n| n.0 == *w).map_or((*w).to_owned(), |n| n.1.clone()))
            .collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let result = callup(&words).code(2);
        let error = String::from_utf8_lossy(&result.get_output().stderr).into_owned();
        assert!(error.contains(said), "{words:?}: {error}");
        assert!(!folder.path().join("out.html").exists());
    }
}

#[test]
fn a_page_is_written_over_an_earlier_page_and_nothing_else() {
    let folder = tempfile::tempdir().expect("folder");
    let built = folder.path().join("built.html");
    let begin = "<script type=\"application/json\" id=\"begin\">{}</script>";
    std::fs::write(&built, format!("<!doctype html>{begin}")).expect("written");
    let write = |name: &str| {
        std::process::Command::new(env!("CARGO_BIN_EXE_callup"))
            .args(["page", "-o", name, "--from", "built.html"])
            .current_dir(folder.path())
            .output()
            .expect("runs")
    };
    assert!(write("mine.html").status.success());
    assert!(write("mine.html").status.success());
    let diary = folder.path().join("diary.html");
    std::fs::write(&diary, "<p>my diary</p>").expect("written");
    let refused = write("diary.html");
    assert_eq!(refused.status.code(), Some(2));
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(said.contains("is not a live page") && said.contains("give another name"), "{said}");
    assert_eq!(std::fs::read_to_string(&diary).expect("still there"), "<p>my diary</p>");
}
