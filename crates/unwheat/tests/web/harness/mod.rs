//! What the browser tests stand on: the workbench running over a kitchen of its own, Chromium
//! driven through WebDriver, and plain HTTP beside it.

mod driver;
mod house;
mod http;
mod window;

pub use house::House;
pub use http::{encode, send};
pub use window::{Theme, Window, key, screens};

use std::path::{Path, PathBuf};
use std::sync::{Condvar, Mutex, PoisonError};

/// The folder of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .expect("the crate lies two folders down")
        .to_owned()
}

/// An example recipe's text.
pub fn example(name: &str) -> String {
    std::fs::read_to_string(root().join("examples").join(name)).expect("the example is there")
}

/// A test in the browser, over a kitchen of its own. Where there is no browser it is left out,
/// and said so once.
pub fn browser(test: impl FnOnce(&House, &mut Window)) {
    let Some(driver) = driver::running() else {
        return;
    };
    // Two browsers at a time: more only make one another slow.
    let _turn = Turn::take();
    let house = House::open();
    let mut window = Window::open(driver, &house);
    test(&house, &mut window);
    window.must_be_quiet();
    drop(window);
    house.must_be_sound();
}

static TURNS: (Mutex<u32>, Condvar) = (Mutex::new(2), Condvar::new());

struct Turn;

impl Turn {
    fn take() -> Self {
        let mut left = TURNS.0.lock().unwrap_or_else(PoisonError::into_inner);
        while *left == 0 {
            left = TURNS.1.wait(left).unwrap_or_else(PoisonError::into_inner);
        }
        *left -= 1;
        Self
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        *TURNS.0.lock().unwrap_or_else(PoisonError::into_inner) += 1;
        TURNS.1.notify_one();
    }
}
