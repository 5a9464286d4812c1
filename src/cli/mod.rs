//! Arguments, terminals and exit codes; one file a command.

pub mod report;
