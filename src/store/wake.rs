//! How the store asks its owner to look again.

use std::sync::Arc;

/// Called when an answer or a notice is ready, from a thread of the store: asks the window to look again.
pub type Wake = Arc<dyn Fn() + Send + Sync>;
