//! The pages about the job file and the catalogue's build-ups.

#[test]
fn the_reference_page_is_fresh() {
    crate::same_file("docs/job-file.md", &job::reference());
}

#[test]
fn the_page_of_build_ups_is_fresh() {
    let catalogue = job::Library::built_in().catalogue;
    crate::same_file("docs/build-ups.md", &job::build_up_page(&catalogue));
}
