//! Vehicle routing with time windows, least distance.

#[path = "../../../benches/routing/answer.rs"]
mod answer;
#[path = "../../../benches/routing/problem.rs"]
mod problem;
#[path = "../../../benches/routing/solomon.rs"]
mod solomon;

/// RC208 of Solomon (1987), 100 customers; best known 776.1 with distances truncated to one decimal (`PyPI`'s pyvrp, `RC208.sol`, of which
/// the instance is, too).
#[test]
fn a_short_search_comes_within_two_per_cent_of_the_best_known_routes() {
    let routing = solomon::read(&super::fixture("RC208.txt")).expect("the fixture");
    assert_eq!(
        (routing.name.as_str(), routing.points.len()),
        ("RC208", 101)
    );
    let found = super::searched(&problem::instance(&routing), 20_000);
    let answer = answer::measure(&routing, &found).expect("all rules kept");
    assert!((1..=25).contains(&answer.vehicles));
    assert!(
        answer.distance >= 7761,
        "{} beats the best known",
        answer.distance
    );
    assert!(answer.distance <= 7916, "{}", answer.distance);
}
