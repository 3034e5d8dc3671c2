//! The page about the job file.

#[test]
fn the_reference_page_is_fresh() {
    crate::same_file("docs/job-file.md", &job::reference());
}
