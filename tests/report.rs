//! The report: one file that fetches nothing, says what `odds` says, and lets no text of a file act.

use assert_cmd::Command;
use std::path::Path;
use tempfile::TempDir;

/// The program with a small budget.
fn callup(args: &[&str]) -> Command {
    let mut command = Command::cargo_bin("callup").expect("built");
    command.args(args).args(["--draws", "32", "--points", "64"]);
    command
}

fn report(scenario: &str, more: &[&str]) -> String {
    let folder = TempDir::new().expect("a folder");
    let file = folder.path().join("r.html");
    let path = file.display().to_string();
    callup(&["report", scenario, "-o", &path]).args(more).assert().success().stdout("");
    std::fs::read_to_string(file).expect("written")
}

#[test]
fn a_report_fetches_nothing_and_is_small() {
    let html = report("main-lake-point", &[]);
    assert!(html.len() < 2_000_000, "{} bytes", html.len());
    // The SVG name space is a name and not an address.
    let rest = html.replace("http://www.w3.org/2000/svg", "");
    // A source may be followed by hand; a link fetches nothing by itself.
    let rest = rest.replace("<a href=\"https://doi.org/10.", "");
    for fetch in ["src=", "http:", "https:", "url(", "@import", "<link", "<iframe"] {
        assert!(!rest.contains(fetch), "{fetch}");
    }
}

#[test]
fn a_report_says_what_odds_says() {
    let html = report("main-lake-point", &[]);
    let out = callup(&["odds", "main-lake-point", "--json"]).assert().success().get_output().stdout.clone();
    let odds: serde_json::Value = serde_json::from_slice(&out).expect("JSON");
    let baits = odds["baits"].as_array().expect("baits");
    assert_eq!(baits.len(), 12);
    for bait in baits {
        let s = &bait["strikes_per_100"];
        let [point, low, high] = ["median", "low", "high"].map(|key| s[key].as_f64().expect("a number"));
        let said =
            callup::present::escape::escape_xml(&callup::present::words::short_range(point, low, high));
        let name = bait["name"].as_str().expect("a name");
        let row = html.lines().find(|line| line.starts_with("<tr>") && line.contains(name)).expect(name);
        assert!(row.contains(&said), "{name}: {said} not in {row}");
    }
}

#[test]
fn the_same_seed_gives_the_same_bytes_and_another_does_not() {
    let of = |seed: &str| report("stained-lowland", &["--seed", seed]);
    let without_file =
        |html: String| -> String { html.lines().filter(|l| !l.contains("callup report")).collect() };
    let (first, again, other) = (without_file(of("5")), without_file(of("5")), without_file(of("6")));
    assert!(first == again);
    assert!(first != other);
}

/// Every element is closed, in order; what HTML never closes is known by name.
fn balanced(html: &str) {
    const VOID: [&str; 3] = ["meta", "br", "!DOCTYPE"];
    let mut open: Vec<&str> = Vec::new();
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        let tag = &rest[at + 1..];
        let end = tag.find('>').expect("a tag ends");
        let (inside, after) = (&tag[..end], &tag[end + 1..]);
        rest = after;
        let name = inside.trim_start_matches('/').split([' ', '\n', '/']).next().expect("a name");
        if inside.starts_with('/') {
            assert_eq!(open.pop(), Some(name), "closing </{name}>");
        } else if !inside.ends_with('/') && !VOID.contains(&name) {
            open.push(name);
            if matches!(name, "script" | "style") {
                // Their text is not markup.
                rest = &rest[rest.find(&format!("</{name}>")).expect("closed")..];
            }
        }
    }
    assert!(open.is_empty(), "left open: {open:?}");
}

#[test]
fn a_report_is_well_formed_and_told_to_those_who_hear_it() {
    let html = report("clay-after-rain", &[]);
    balanced(&html);
    for needed in ["<html lang=\"en\">", "<main", "<h1>", "<header>", "<footer>", "name=\"viewport\""] {
        assert_eq!(html.matches(needed).count(), 1, "{needed}");
    }
    let figures = html.matches("<figure>").count();
    assert!(figures >= 5, "{figures} pictures");
    assert_eq!(html.matches("role=\"img\"").count(), figures);
    assert_eq!(html.matches("<figcaption").count(), figures);
    assert!(!html.contains("<title></title>"));
    assert_eq!(html.matches("<table>").count(), html.matches("<caption>").count());
}

const HOSTILE: &str = "\\\"/><script>alert(1)</script>\\u202e&amp;<img src=x onerror=alert(2)>";

#[test]
fn text_of_a_file_does_nothing_but_be_read() {
    let folder = TempDir::new().expect("a folder");
    let file = folder.path().join("<b onmouseover=x>.toml");
    let plain = callup::scenario::library::get("stained-lowland").expect("embedded");
    let title = plain.lines().find(|line| line.starts_with("title")).expect("a title");
    let long = "wide".repeat(24);
    let source = format!(
        "# </code></pre><script>alert(3)</script>\n{}\n[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\n\
         name = \"{HOSTILE}\"\n[[box.bait]]\nlike = \"110 mm, deep lip, silent\"\nname = \"{long}\"\n",
        plain.replace(title, &format!("title = \"{HOSTILE}\""))
    );
    std::fs::write(&file, source).expect("written");
    let html = report(&file.display().to_string(), &[]);
    balanced(&html);
    assert_eq!(html.matches("<script>").count(), 1, "our own and no other");
    for live in ["<img", "onerror=alert(2)>", "<b onmouseover", "\u{202e}"] {
        assert!(!html.contains(live), "{live}");
    }
    assert!(html.contains("&lt;script&gt;alert(1)"), "shown as text");
}

#[test]
fn an_earlier_report_is_written_over_and_nothing_else() {
    let folder = TempDir::new().expect("a folder");
    let (mine, theirs) = (folder.path().join("mine.html"), folder.path().join("theirs.html"));
    let write = |file: &Path| callup(&["report", "-o", &file.display().to_string()]).assert();
    write(&mine).success();
    write(&mine).success();
    std::fs::write(&theirs, "<p>my diary</p>").expect("written");
    let refused = write(&theirs).code(2);
    let said = String::from_utf8_lossy(&refused.get_output().stderr).into_owned();
    assert!(said.contains("is not a report") && said.contains("give another name"), "{said}");
    assert_eq!(std::fs::read_to_string(&theirs).expect("still there"), "<p>my diary</p>");
    let nowhere = folder.path().join("no/such/folder/r.html");
    write(&nowhere).code(1);
    assert_eq!(std::fs::read_dir(folder.path()).expect("listed").count(), 2, "nothing half written");
}

#[test]
fn the_report_says_how_to_repeat_it() {
    let html = report("main-lake-point", &["--set", "water.secchi=2 m", "--units", "us"]);
    assert!(html.contains("--set &#39;water.secchi=2 m&#39;") && html.contains("--seed 1"), "the command");
    assert!(html.contains("secchi = &quot;3.4 m&quot;"), "the scenario's own text");
    assert!(html.contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn the_report_holds_every_study_in_its_order() {
    let html = report("main-lake-point", &[]);
    let at = |id: &str| html.find(&format!("<section id=\"{id}\"")).unwrap_or_else(|| panic!("no {id}"));
    let ids = [
        "answer",
        "rules",
        "day",
        "why",
        "trials",
        "depths",
        "light",
        "assumptions",
        "sources",
        "repeat",
        "cautions",
    ];
    let places: Vec<usize> = ids.iter().map(|id| at(id)).collect();
    assert!(places.windows(2).all(|pair| pair[0] < pair[1]), "{places:?}");
    for id in ids {
        assert!(html.contains(&format!("href=\"#{id}\"")), "{id} in the contents");
    }
    for picture in ["column", "odds", "losses", "day", "why", "trials", "depth", "light", "finishes"] {
        assert!(html.contains(&format!("data-file=\"{picture}.svg\"")), "the picture {picture}");
    }
    assert!(!html.contains("Left out:"), "everything was worked out");
    assert!(html.contains("its fish and its anglers are invented"));
    // One world has no spread to explain, and a fixed world is asked for by name.
    let fixed = report("main-lake-point", &["--fixed"]);
    assert!(!fixed.contains("<section id=\"why\"") && fixed.contains("<section id=\"day\""));
}

#[test]
fn a_report_says_what_day_and_why_say() {
    let html = report("stained-lowland", &[]);
    let plain = |text: &str| callup::present::escape::escape_xml(text);
    for (command, end) in [("day", "."), ("why", ".")] {
        let out = callup(&[command, "stained-lowland"]).assert().success().get_output().stdout.clone();
        let text = String::from_utf8(out).expect("text");
        // After the conditions and an empty line comes the finding; lines are broken to the terminal.
        let finding =
            text.split("\n\n").nth(1).expect("a finding").split_whitespace().collect::<Vec<_>>().join(" ");
        let first = &finding[..=finding.find(end).expect("a sentence")];
        assert!(html.contains(&plain(first)), "{command}: {first}");
    }
}

#[test]
fn a_water_of_ones_own_is_not_called_invented() {
    let folder = TempDir::new().expect("a folder");
    let file = folder.path().join("own.toml");
    let source = callup::scenario::library::get("main-lake-point").expect("embedded");
    std::fs::write(&file, source.replace("(invented)", "")).expect("written");
    let html = report(&file.display().to_string(), &[]);
    assert!(!html.contains("its fish and its anglers are invented"));
}
