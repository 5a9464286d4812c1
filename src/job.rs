//! The job file, as options for each stage.
