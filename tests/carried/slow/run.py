"""Times fifty visits over a slow link: `run.py BUILT RUNS POUCH_RUNS`. `tests/long slowlink` calls it.

BUILT is where `measure` and `headmark-hub` are. Without loss, our exchange and a bare TCP transfer of the same bytes go in turn;
then the same with one packet in twenty lost, and PouchDB beside them. Ends with 3 where this machine has no such link, and where
PouchDB was not asked for: then nothing was compared with it.
"""

import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile

from link import HUB, PHONE, Link, NotHere

RATE, ROUND_TRIP, LOSS = 50_000, 0.6, 0.05
HERE = pathlib.Path(__file__).parent
LIMIT = 900


class Served:
    """A command at the hub's end, ready once it has said a line; ended with the block."""

    def __init__(self, link, command):
        self.command = link.inside(HUB, command)

    def __enter__(self):
        self.process = subprocess.Popen(self.command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        if not self.process.stdout.readline():
            raise RuntimeError(f"{self.command} did not start")
        return self

    def __exit__(self, *_):
        self.process.kill()
        self.process.wait()


def timed(link, command):
    """Runs a command at the phone's end, and returns the seconds that it prints."""
    done = subprocess.run(link.inside(PHONE, command), capture_output=True, text=True, timeout=LIMIT, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"{command} failed: {done.stderr}")
    return float(done.stdout)


def ours(link, built, prepared):
    """Each time from the same beginning: hub and phone as they were prepared."""
    with tempfile.TemporaryDirectory() as fresh:
        folder = pathlib.Path(fresh, "copy")
        shutil.copytree(prepared, folder)
        at = f"{link.address(HUB)}:8443"
        hub = [built / "headmark-hub", "--folder", folder / "home/hub", "serve", "--listen", at]
        with Served(link, hub):
            return timed(link, [built / "measure", "send", folder, at])


def bare(link, up, down):
    words = [link.address(HUB), str(up), str(down)]
    with Served(link, [sys.executable, HERE / "bare.py", "take", *words]):
        return timed(link, [sys.executable, HERE / "bare.py", "send", *words])


def pouch(link, documents):
    with Served(link, ["node", HERE / "pouch/serve.js", link.address(HUB)]):
        return timed(link, ["node", HERE / "pouch/send.js", link.address(HUB), documents])


def told(name, seconds):
    ordered = sorted(seconds)
    print(
        f"{name:<28} median {statistics.median(ordered):7.2f} s   least {ordered[0]:7.2f}   most {ordered[-1]:7.2f}"
        f"   all: {' '.join(f'{one:.2f}' for one in ordered)}",
        flush=True,
    )
    return statistics.median(ordered)


def in_turn(runs, seed, loss, ways):
    """Runs each way in turn, on a new link each time, so that what is lost differs from time to time."""
    seconds = {name: [] for name in ways}
    for run in range(runs):
        for name, way in ways.items():
            with Link(RATE, ROUND_TRIP, loss=loss, seed=seed + run) as link:
                seconds[name].append(way(link))
    return seconds


def outcome(within, pouch_runs):
    """What the stage ends with: 1 where the bound is missed, whatever else was run; 3 where a part was not run."""
    if not within:
        return 1
    return 0 if pouch_runs > 0 else 3


def all_but_programs(_, names):
    return [name for name in names if name not in ("measure", "headmark-hub")]


def main(built, runs, pouch_runs):
    with tempfile.TemporaryDirectory() as place:
        prepared, documents, weighed = (pathlib.Path(place, name) for name in ("prepared", "documents", "weighed"))
        # A build that goes on beside this one may take the programs away for a moment.
        built = pathlib.Path(shutil.copytree(built, pathlib.Path(place, "built"), ignore=all_but_programs))
        measure = built / "measure"
        subprocess.run([measure, "prepare", prepared], check=True)
        subprocess.run([measure, "documents", documents], check=True)
        shutil.copytree(prepared, weighed)
        weight = subprocess.run([measure, "weigh", weighed], check=True, capture_output=True, text=True).stdout
        up, down = (int(word) for word in weight.split())
        print(f"{RATE // 1000} kbit/s, {ROUND_TRIP * 1000:.0f} ms there and back; {up} bytes up, {down} down")

        ways = {"ours": lambda link: ours(link, built, prepared), "bare": lambda link: bare(link, up, down)}
        clean = in_turn(runs, 1, 0.0, ways)
        mine, base = told("no loss, our exchange", clean["ours"]), told("no loss, bare TCP", clean["bare"])
        bound = base * 1.2 + 4 * ROUND_TRIP
        print(f"{'bound: bare and 20 %, 4 trips':<28}        {bound:7.2f} s", flush=True)

        lossy = in_turn(runs, 1000, LOSS, ways)
        lost = [told(f"5 % lost, {name}", lossy[way]) for way, name in (("ours", "our exchange"), ("bare", "bare TCP"))]
        words = f"no loss: {mine:.2f} s, bare {base:.2f} s, bound {bound:.2f} s; 5 % lost: {lost[0]:.2f} s, bare {lost[1]:.2f} s"
        if pouch_runs > 0:
            beside = in_turn(pouch_runs, 1000, LOSS, {"pouch": lambda link: pouch(link, documents)})
            words += f", PouchDB {told('5 % lost, PouchDB', beside['pouch']):.2f} s ({pouch_runs} runs)"
        else:
            words += ", PouchDB was not run"
        print(f"result: {words}; {runs} runs each")
        return outcome(mine <= bound, pouch_runs)


if __name__ == "__main__":
    try:
        sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), int(sys.argv[2]), int(sys.argv[3])))
    except NotHere as error:
        print(f"not run: two namespaces with TUN devices cannot be made here ({error})")
        print("result: not run: no link of this kind can be made on this machine")
        sys.exit(3)
