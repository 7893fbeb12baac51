//! The people who look after the invented programme from the office, and when it is now.

/// The present of the invented programme, in seconds since 1970 UTC: the morning after its
/// last day, 2026-11-01T08:00:00Z.
pub const PRESENT: i64 = 1_793_520_000;

/// Who supervises the programme.
pub const SUPERVISOR: &str = "Orla Vantreight";

/// Who audits it.
pub const AUDITOR: &str = "Ines Falkmere";

/// Who plans the work on machines and points.
pub const PLANNER: &str = "Teodor Hask";
