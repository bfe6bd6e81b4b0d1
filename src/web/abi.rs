//! The simulator behind a browser page: JSON in, JSON out, through three exports and no imports.

#![no_main]
use std::cell::RefCell;
thread_local! {
    static INPUT: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static OUTPUT: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
}
#[unsafe(no_mangle)]
pub extern "C" fn input(len: usize) -> *mut u8 {
    INPUT.with_borrow_mut(|i| { i.clear(); i.resize(len, 0); i.as_mut_ptr() })
}
#[unsafe(no_mangle)]
pub extern "C" fn run() -> usize {
    use callup::engine::{Budget, StrikeTable}; use callup::engine::table::Control;
    let models = callup::models::Models::embedded().unwrap();
    let catalogue = callup::scenario::Catalogue::of(&models);
    let named = callup::scenario::library::get("main-lake-point").unwrap();
    let s = callup::scenario::load(named, "x", &[], &catalogue).unwrap().scenario;
    let setting = callup::world::Setting::new(&s, &models).unwrap();
    let budget = Budget { seed: 1, draws: 128, points: 64, fixed: false };
    let t = StrikeTable::fill(&models, std::slice::from_ref(&setting), budget, &Control::default()).unwrap();
    let o = callup::study::odds::odds(&models, &setting, &t, 0, 1);
    let text = o.baits.iter().map(|b| format!("{} {:e}", b.name, b.strikes.point)).collect::<Vec<_>>().join("\n");
    OUTPUT.with_borrow_mut(|x| { *x = text.into_bytes(); x.len() })
}
#[unsafe(no_mangle)]
pub extern "C" fn output() -> *const u8 { OUTPUT.with_borrow(|x| x.as_ptr()) }
