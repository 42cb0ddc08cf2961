//! The kitchen's settings, archive and backups.

use super::app::Shared;
use axum::Router;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
}

/// Keeps backups while the workbench runs.
pub async fn keep_backups(_app: Shared) {}
