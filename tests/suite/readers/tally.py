"""What came of one reader on one category, and the tables."""

from dataclasses import dataclass, field


@dataclass
class Tally:
    pictures: int = 0
    read: int = 0
    wrong: list = field(default_factory=list)
    times: list = field(default_factory=list)
    stopped: int = 0
    longest: float = 0.0

    def add(self, name, wrong, right, ms, stopped, longest):
        self.pictures += 1
        self.read += right
        if wrong:
            self.wrong.append((name, wrong))
        self.times.append(ms)
        self.stopped += stopped
        self.longest = max(self.longest, longest)

    def __iadd__(self, other):
        self.pictures += other.pictures
        self.read += other.read
        self.wrong += other.wrong
        self.times += other.times
        self.stopped += other.stopped
        self.longest = max(self.longest, other.longest)
        return self

    def at(self, tenths):
        """The time that so many tenths of the pictures do not exceed."""
        times = sorted(self.times)
        return times[(len(times) - 1) * tenths // 10]


def table(title, rows, wrong):
    """Prints read and wrong for each category and reader; `rows` maps a category to readers' tallies, and `wrong` tells what
    is counted so."""
    readers = list(next(iter(rows.values())))
    wide = max(len(category) for category in rows) + 2
    print(f"\n{title}: read, and in brackets {wrong}")
    print(f"{'':{wide}}{'of':>6}" + "".join(f"{reader:>13}" for reader in readers))
    for category, tallies in rows.items():
        line = f"{category:{wide}}{tallies[readers[0]].pictures:>6}"
        for reader in readers:
            tally = tallies[reader]
            bad = f" ({len(tally.wrong)})" if tally.wrong else ""
            line += f"{str(tally.read) + bad:>13}"
        print(line)


def times(title, tallies):
    """Prints the middle and nine tenths of each reader's times; of ours, how many pictures were given up when the time
    was over that the app gives a frame or a photo, and the longest that it went on without asking for the time."""
    print(f"\n{title}: milliseconds")
    print(f"{'':14}{'median':>9}{'nine tenths':>13}{'most':>9}{'stopped':>9}{'one attempt':>13}")
    for reader, tally in tallies.items():
        line = f"{reader:14}{tally.at(5):9.2f}{tally.at(9):13.1f}{max(tally.times):9.1f}"
        if reader.startswith("ours"):
            line += f"{100 * tally.stopped / tally.pictures:8.1f}%{tally.longest:13.1f}"
        print(line)


def total(rows):
    """All categories together."""
    all_of = {}
    for tallies in rows.values():
        for reader, tally in tallies.items():
            all_of.setdefault(reader, Tally())
            all_of[reader] += tally
    return all_of
