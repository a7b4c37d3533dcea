//! When each step starts, with so many people.

/// A step as the schedule sees it; needs are indices into the same list, all earlier.
pub(super) struct Task {
    pub people: u32,
    pub minutes: i64,
    /// Minutes after its end before a step that needs it may start.
    pub hold: i64,
    pub needs: Vec<usize>,
}

/// The start of each task in working minutes: in their order, each as soon as what it needs is done
/// and held and enough of the crew is free. A step for more people than there are takes them all.
pub(super) fn starts(tasks: &[Task], crew: u32) -> Vec<i64> {
    let mut free_at = vec![0_i64; crew.max(1) as usize];
    let mut starts: Vec<i64> = Vec::with_capacity(tasks.len());
    for task in tasks {
        let hands = (task.people.max(1) as usize).min(free_at.len());
        free_at.sort_unstable();
        let done = |need: &usize| starts[*need] + tasks[*need].minutes + tasks[*need].hold;
        let ready = task.needs.iter().map(done).max().unwrap_or(0);
        let start = ready.max(free_at[hands - 1]);
        free_at[..hands].fill(start + task.minutes);
        starts.push(start);
    }
    starts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(people: u32, minutes: i64, hold: i64, needs: &[usize]) -> Task {
        Task { people, minutes, hold, needs: needs.to_vec() }
    }

    /// Two people: a and b go side by side; c needs both people, so it waits for the longer; d needs c
    /// and c's glue; e is free and starts when c lets go.
    #[test]
    fn by_hand() {
        let tasks = [
            task(1, 30, 0, &[]),
            task(1, 50, 0, &[]),
            task(2, 20, 30, &[0]),
            task(1, 10, 0, &[2]),
            task(1, 10, 0, &[]),
        ];
        assert_eq!(starts(&tasks, 2), [0, 0, 50, 100, 70]);
    }

    #[test]
    fn one_person_does_all_by_turns() {
        let tasks = [task(2, 30, 0, &[]), task(1, 50, 0, &[])];
        assert_eq!(starts(&tasks, 1), [0, 30]);
    }
}
