//! To come in the next commit.

use super::app::Shared;
use axum::Router;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
}
