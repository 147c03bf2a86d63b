"""The judge of refusals for bad_input.py: a good recording to spoil, a folder that must stay as it was,
and ways to take away rights and room on the disk."""
import os
import resource
import shutil
import signal
import subprocess

from support import System, high_pass, later, listing, peak, stack, stimulus, write_wav


class Bench:
    """A good recording, a folder for outputs, and the judge of refusals."""

    def __init__(self, program, report, folder, **options):
        self.program, self.report, self.folder = program, report, folder
        self.files, self.outputs = os.path.join(folder, "files"), os.path.join(folder, "outputs")
        os.mkdir(self.files)
        os.mkdir(self.outputs)
        self.out = os.path.join(self.outputs, "out")
        self.played = stimulus(program, self.files, seconds=1, **options)
        self.rate = self.played.rate
        self.system = System(self.rate, high_pass(self.rate, 45), peak(self.rate, 700, 2, 4))
        self.mic = later(sum(self.system.run(x) for x in self.played.sides()), 200)
        self.loop = self.played.samples.sum(1)
        self.good = self.wav("good.wav", self.mic, self.loop)

    def wav(self, name, *channels, kind="float", rate=None):
        return write_wav(os.path.join(self.files, name), rate or self.rate, stack(*channels), kind)

    def write(self, name, content):
        path = os.path.join(self.files, name)
        with open(path, "wb") as f:
            f.write(content if isinstance(content, bytes) else content.encode())
        return path

    def refused(self, what, arguments, codes, names=(), causes=(), **ways):
        """One refusal: `names` must all be in the reason, and one of `causes` (lower case)."""
        before = listing(self.outputs)
        done = self.program.run(*arguments, timeout=30, **ways)
        faults, words = [], done.err.lower()
        if done.code not in codes:
            faults.append(f"exit {done.code}, not {' or '.join(map(str, codes))}")
        if done.died():
            faults.append("died of it")
        if listing(self.outputs) != before:
            new = sorted(set(listing(self.outputs)) - set(before))
            faults.append(f"left or changed {new or 'a file'}")
            self.sweep_away(new)
        faults += [f"does not name {n}" for n in names if n.lower() not in words]
        if causes and not any(c in words for c in causes):
            faults.append("does not give the cause")
        if len(done.err.split()) < 4:
            faults.append("gives no sentence")
        said = " ".join(done.err.split())[:160]
        self.report.line(not faults, f"{what}: "
                         + ("; ".join(faults) + f" (said: {said!r})" if faults else f"exit {done.code}"))

    def sweep_away(self, names):
        """What should not be there, so that the next case starts as it should."""
        for path in (os.path.join(self.outputs, n) for n in reversed(names)):
            (shutil.rmtree if os.path.isdir(path) else os.remove)(path)

    def analysis(self, recording=None, plan=None, *more, out=None):
        return ("analyse", recording or self.good, "--stimulus", plan or self.played.path,
                "--out", out or self.out, *more)

    def good_run(self, after):
        """The same place works now."""
        shutil.rmtree(self.out, ignore_errors=True)
        done = self.program.run(*self.analysis(None, None, "--reference-channel", 2))
        there = os.listdir(self.outputs) == ["out"] and "analysis.json" in os.listdir(self.out)
        self.report.line(done.code == 0 and there, f"after {after} a good run works (exit {done.code})")
        shutil.rmtree(self.out, ignore_errors=True)


def mounted(folder, kilobytes):
    options = f"size={kilobytes}k"
    return subprocess.run(["mount", "-t", "tmpfs", "-o", options, "none", folder], capture_output=True,
                          check=False).returncode == 0


def limited(limit):
    """For `before`: no file may grow past `limit` bytes, as on a full disk (the signal for it is ignored)."""
    def apply():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    return apply
