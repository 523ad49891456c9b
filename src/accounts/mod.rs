//! Getting in: passwords, the pause after wrong ones, sessions, one-time links.

mod common_passwords;
mod links;
mod password;
mod session;
mod throttle;

pub use links::{make_setup_link, make_sign_in_link};
pub(crate) use password::is_weaker_than_new;
pub use password::{PasswordError, PasswordHasher, check_new_password};
pub use session::{Live, SessionCookie, find_live, start};
pub use throttle::Throttle;
