//! When each step starts, with so many people.

/// A step as the schedule sees it; needs are indices into the same list, all earlier.
pub(super) struct Task {
    pub people: u32,
    pub minutes: i64,
    /// Minutes after its end before a step that needs it may start.
    pub hold: i64,
    /// Whether it is not left half done over a night, as a panel on its tacks would be.
    pub whole: bool,
    pub needs: Vec<usize>,
}

/// The minutes that are worked, counted on from one day to the next, beside those of the clock: glue
/// holds on while the crew eats and sleeps.
#[derive(Clone, Copy)]
pub(super) struct Day {
    /// Working minutes in a day.
    pub work: i64,
    /// Minutes for a meal, in the middle of the day.
    pub meal: i64,
}

impl Day {
    const CLOCK: i64 = 24 * 60;

    /// The working minute at which something that was left at `end` has been left alone for `hold` minutes.
    fn after(self, end: i64, hold: i64) -> i64 {
        if hold == 0 {
            return end;
        }
        // A day's last minute is not yet the next day's first.
        let (day, minute) = ((end - 1).div_euclid(self.work), (end - 1).rem_euclid(self.work) + 1);
        let half = self.work / 2;
        let eaten = if minute > half { self.meal } else { 0 };
        let clock = day * Self::CLOCK + minute + eaten + hold;
        let (day, minute) = (clock.div_euclid(Self::CLOCK), clock.rem_euclid(Self::CLOCK));
        let worked = if minute <= half { minute } else { (minute - self.meal).clamp(half, self.work) };
        day * self.work + worked
    }

    /// The first minute, not before `start`, at which `minutes` of work end on the day they begin; work
    /// longer than a day begins at once.
    fn unbroken(self, start: i64, minutes: i64) -> i64 {
        let left = self.work - start.rem_euclid(self.work);
        if minutes <= left || minutes > self.work { start } else { start + left }
    }
}

/// The start of each task in working minutes: in their order, each as soon as what it needs is done
/// and held and enough of the crew is free. A step for more people than there are takes them all.
pub(super) fn starts(tasks: &[Task], crew: u32, day: Day) -> Vec<i64> {
    let mut free_at = vec![0_i64; crew.max(1) as usize];
    let mut starts: Vec<i64> = Vec::with_capacity(tasks.len());
    for task in tasks {
        let hands = (task.people.max(1) as usize).min(free_at.len());
        free_at.sort_unstable();
        let done = |need: &usize| day.after(starts[*need] + tasks[*need].minutes, tasks[*need].hold);
        let ready = task.needs.iter().map(done).max().unwrap_or(0);
        let free = ready.max(free_at[hands - 1]);
        let start = if task.whole { day.unbroken(free, task.minutes) } else { free };
        free_at[..hands].fill(start + task.minutes);
        starts.push(start);
    }
    starts
}

#[cfg(test)]
mod tests {
    use super::*;

    const DAY: Day = Day { work: 420, meal: 30 };

    fn task(people: u32, minutes: i64, hold: i64, needs: &[usize]) -> Task {
        Task { people, minutes, hold, whole: false, needs: needs.to_vec() }
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
        assert_eq!(starts(&tasks, 2, DAY), [0, 0, 50, 100, 70]);
    }

    #[test]
    fn one_person_does_all_by_turns() {
        let tasks = [task(2, 30, 0, &[]), task(1, 50, 0, &[])];
        assert_eq!(starts(&tasks, 1, DAY), [0, 30]);
    }

    /// By hand: a day of 420 minutes with a meal after 210. Glue left at 200 for 60 minutes holds 10 of work,
    /// 30 of the meal and 20 of work: 230. Left at 410 it holds 10 of work and the rest by night: the next
    /// day's first minute. What is left as the day ends is ready in the morning, however the count falls.
    #[test]
    fn glue_holds_over_meals_and_nights() {
        assert_eq!(DAY.after(100, 60), 160);
        assert_eq!(DAY.after(200, 60), 230);
        assert_eq!(DAY.after(205, 10), 210);
        assert_eq!(DAY.after(410, 60), 420);
        assert_eq!(DAY.after(420, 60), 420);
        // Longer than a night: 24 hours after the end of the first day it is the end of the second.
        assert_eq!(DAY.after(420, 24 * 60), 840);
        assert_eq!(DAY.after(410, 0), 410);
    }

    /// A panel of 90 minutes is not begun 60 minutes before the day ends; batting is.
    #[test]
    fn a_panel_is_not_left_over_night() {
        let before = || task(1, 360, 0, &[]);
        let panel = Task { whole: true, ..task(1, 90, 0, &[0]) };
        assert_eq!(starts(&[before(), panel], 1, DAY), [0, 420]);
        assert_eq!(starts(&[before(), task(1, 90, 0, &[0])], 1, DAY), [0, 360]);
        // What takes longer than a day has to be parted somewhere.
        let long = Task { whole: true, ..task(1, 500, 0, &[0]) };
        assert_eq!(starts(&[before(), long], 1, DAY), [0, 360]);
    }
}
