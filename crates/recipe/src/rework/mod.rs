//! Rework: from a wheat formula to a gluten-free one, with every change and its reason.

pub mod hydration;
