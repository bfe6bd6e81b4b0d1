//! The module inside the live page: three exports, no imports.
//!
//! The page asks `input(len)` for a place, writes a request there (UTF-8), calls `run()`, which gives the length of
//! the answer, and reads that many bytes at `output()`. Built for the machine itself, the same program reads a
//! request from standard input and writes the answer to standard output, for tests.

#![cfg_attr(target_arch = "wasm32", no_main)]

#[cfg(target_arch = "wasm32")]
mod exports {
    use std::cell::RefCell;

    thread_local! {
        static INPUT: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
        static OUTPUT: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    }

    /// Makes room for a request of that many bytes and tells where.
    #[unsafe(no_mangle)]
    pub extern "C" fn input(len: usize) -> *mut u8 {
        INPUT.with_borrow_mut(|bytes| {
            bytes.clear();
            bytes.resize(len, 0);
            bytes.as_mut_ptr()
        })
    }

    /// Answers the request; tells how long the answer is.
    #[unsafe(no_mangle)]
    pub extern "C" fn run() -> usize {
        let text = INPUT.with_borrow(|bytes| callup::web::answer(&String::from_utf8_lossy(bytes)));
        OUTPUT.with_borrow_mut(|bytes| {
            *bytes = text.into_bytes();
            bytes.len()
        })
    }

    /// Where the answer is.
    #[unsafe(no_mangle)]
    pub extern "C" fn output() -> *const u8 {
        OUTPUT.with_borrow(|bytes| bytes.as_ptr())
    }
}

#[cfg(not(target_arch = "wasm32"))]
fn main() -> std::io::Result<()> {
    use std::io::{Read, Write};
    let mut request = String::new();
    std::io::stdin().read_to_string(&mut request)?;
    std::io::stdout().write_all(callup::web::answer(&request).as_bytes())
}
