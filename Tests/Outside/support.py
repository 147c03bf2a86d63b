"""Shared by the checks from outside: stimuli as the console program writes them, recordings made with NumPy
and SciPy, and closed forms to compare with. Nothing here knows the program's own code, only its commands and
files.

Each check file runs as `python3 FILE PROGRAM`, prints one line a check ("holds: ..." or "falls short:
...") and ends with 1 if any fell short. Needs python3-numpy and python3-scipy. Levels in dB, frequencies
in Hz.
"""
import dataclasses
import json
import os
import struct
import subprocess
import sys
import tempfile
import time
import traceback

try:
    import numpy as np
    from scipy import signal
    from scipy.io import wavfile
except ImportError as missing:
    sys.exit(f"falls short: {missing}; install the packages python3-numpy and python3-scipy")


class Report:
    """Prints and counts. A check that raises falls short with its exception as the reason."""

    def __init__(self):
        self.held, self.short = 0, 0

    def line(self, ok, what):
        self.held, self.short = self.held + bool(ok), self.short + (not ok)
        print(("holds: " if ok else "falls short: ") + what, flush=True)

    def remark(self, what):
        print("  " + what, flush=True)


@dataclasses.dataclass
class Outcome:
    code: int
    out: str
    err: str

    def died(self):
        """True if it ended by a signal or an exception that nobody caught."""
        signs = ("terminate called", "what():", "Traceback", "Segmentation", "core dumped",
                 "AddressSanitizer")
        return self.code < 0 or self.code >= 128 or any(s in self.err for s in signs)


class Program:
    """The console program, run with a home folder of its own so that the user's settings stay untouched."""

    def __init__(self, path, home):
        self.path, self.home, self.environment = os.path.abspath(path), home, {}

    def run(self, *arguments, timeout=120, before=None, through=(), cwd=None):
        environment = {**os.environ, "HOME": self.home, "XDG_CONFIG_HOME": self.home,
                       "XDG_CACHE_HOME": self.home,
                       "XDG_DATA_HOME": self.home, **self.environment}
        command = [*through, self.path, *(str(a) for a in arguments)]
        try:
            done = subprocess.run(command, capture_output=True, timeout=timeout, env=environment,
                                  preexec_fn=before,
                                  stdin=subprocess.DEVNULL, cwd=cwd)
        except subprocess.TimeoutExpired:
            return Outcome(-99, "", f"still running after {timeout} s")
        return Outcome(done.returncode, done.stdout.decode("utf-8", "replace"),
                       done.stderr.decode("utf-8", "replace"))


def main(*checks):
    """Runs each check(program, report, folder) in a folder of its own and exits."""
    if len(sys.argv) != 2 or not os.access(sys.argv[1], os.X_OK):
        sys.exit(f"falls short: usage: python3 {sys.argv[0]} PROGRAM (the built console program)")
    report, start = Report(), time.time()
    for check in checks:
        with tempfile.TemporaryDirectory(prefix="outside-") as folder:
            home = os.path.join(folder, "home")
            os.mkdir(home)
            try:
                check(Program(sys.argv[1], home), report, folder)
            except Exception as e:  # the reason is the line
                where = traceback.extract_tb(e.__traceback__)[-1]
                report.line(False,
                            f"{check.__name__}: {type(e).__name__}: {e} ({where.name}, line {where.lineno})")
    print(f"{report.held} held, {report.short} fell short, {time.time() - start:.0f} s")
    sys.exit(1 if report.short else 0)


def read_json(path):
    """Strict: NaN and Infinity are not JSON (RFC 8259, section 6)."""
    def refuse(word):
        raise ValueError(f"{os.path.basename(path)} holds {word}, which is not JSON")
    with open(path, encoding="utf-8") as f:
        return json.load(f, parse_constant=refuse)


def known(array):
    """A JSON array with nulls as floats with NaN."""
    return np.array([np.nan if v is None else v for v in array], float)


@dataclasses.dataclass
class Stimulus:
    wav: str
    path: str
    plan: dict
    rate: int
    samples: np.ndarray

    def sides(self):
        """What each side plays, whole stream long."""
        return self.samples[:, 0], self.samples[:, 1]


def stimulus(program, folder, name="s", **options):
    wav, path = os.path.join(folder, name + ".wav"), os.path.join(folder, name + ".json")
    words = [w for key, value in options.items() for w in ("--" + key.replace("_", "-"), value)]
    done = program.run("stimulus", "--out", wav, *words)
    if done.code != 0:
        raise RuntimeError(f"stimulus exits {done.code}: {done.err.strip()[:300]}")
    rate, samples = wavfile.read(wav)
    return Stimulus(wav, path, read_json(path), rate, samples.astype(float))


def grid(low, high):
    """1000 * 2^(k/48) inside the band."""
    k = np.arange(np.ceil(48 * np.log2(low / 1000) - 1e-9), np.floor(48 * np.log2(high / 1000) + 1e-9) + 1)
    return 1000 * 2 ** (k / 48)


class System:
    """Second-order sections, a gain and one echo: run in the time domain, its response in closed form."""

    def __init__(self, rate, *sections, gain=0.5, echo_samples=0, echo_gain=0.0):
        self.rate, self.sections, self.gain = rate, np.concatenate(sections), gain
        self.echo_samples, self.echo_gain = int(echo_samples), echo_gain

    def run(self, x):
        y = signal.sosfilt(self.sections, self.gain * x)
        if self.echo_gain:
            y[self.echo_samples:] += self.echo_gain * y[:len(y) - self.echo_samples].copy()
        return y

    def at(self, frequency):
        z = np.exp(-2j * np.pi * np.asarray(frequency) / self.rate)
        h = np.full(len(z), self.gain, complex)
        for b0, b1, b2, a0, a1, a2 in self.sections:
            h *= (b0 + b1 * z + b2 * z * z) / (a0 + a1 * z + a2 * z * z)
        return h * (1 + self.echo_gain * z ** self.echo_samples)


def high_pass(rate, frequency, order=2):
    return signal.butter(order, frequency, "high", fs=rate, output="sos")


def low_pass(rate, frequency, order=2):
    return signal.butter(order, frequency, fs=rate, output="sos")


def peak(rate, frequency, q, gain_db):
    """Peaking section (W3C, Audio EQ Cookbook)."""
    a, w = 10 ** (gain_db / 40), 2 * np.pi * frequency / rate
    alpha = np.sin(w) / (2 * q)
    return np.array([[1 + alpha * a, -2 * np.cos(w), 1 - alpha * a, 1 + alpha / a, -2 * np.cos(w),
                      1 - alpha / a]]) \
        / (1 + alpha / a)


def high_shelf(rate, frequency, gain_db):
    """First-order shelf: 1 at the bottom, gain_db at the top (bilinear transform)."""
    g, k = 10 ** (gain_db / 20), np.tan(np.pi * frequency / rate)
    return np.array([[(g + k) / (1 + k), (k - g) / (1 + k), 0, 1, (k - 1) / (k + 1), 0]])


def transfer(response, rate, frequency):
    """The discrete-time Fourier transform of an impulse response at exactly these frequencies, term by
    term."""
    k = np.arange(len(response))
    return np.array([np.dot(np.exp(-2j * np.pi * f / rate * k), response) for f in frequency])


def octave_mean_db(power, spacing, frequency, per_octave):
    """10 lg of the mean of a finely sampled power spectrum over f 2^(+-1/(2N)), trapezoid."""
    total = np.r_[0, np.cumsum((power[1:] + power[:-1]) / 2)] * spacing
    f = np.arange(len(power)) * spacing
    low, high = frequency * 2 ** (-0.5 / per_octave), frequency * 2 ** (0.5 / per_octave)
    return 10 * np.log10((np.interp(high, f, total) - np.interp(low, f, total)) / (high - low))


def delayed(x, samples):
    """x later by any number of samples, by the shift theorem on twice the length."""
    n = 1 << int(np.ceil(np.log2(2 * len(x))))
    shift = np.exp(-2j * np.pi * np.arange(n // 2 + 1) / n * samples)
    y = np.fft.irfft(np.fft.rfft(x, n) * shift, n)[:len(x) + int(np.ceil(samples)) + 1]
    y[np.abs(y) < 1e-13] = 0
    return y


def pink_noise(n, rng, rate, lowest=10.0):
    """Gaussian noise of unit rms, -3 dB an octave above `lowest`, nothing below."""
    m = 1 << int(np.ceil(np.log2(n)))
    f = np.arange(m // 2 + 1) * rate / m
    shape = np.where(f >= lowest, 1 / np.sqrt(np.maximum(f, lowest)), 0)
    x = np.fft.irfft(np.fft.rfft(rng.standard_normal(m)) * shape, m)[:n]
    return x / x.std()


def stack(*channels):
    """Channels of different lengths side by side, the shorter ones ending in silence."""
    n = max(len(c) for c in channels)
    return np.stack([np.r_[c, np.zeros(n - len(c))] for c in channels], 1)


def later(x, samples):
    return np.r_[np.zeros(samples), x]


def write_wav(path, rate, channels, kind="float"):
    """`kind`: float, int16, int24, int32, extensible (24 bits behind a JUNK and an odd-sized note, as
    recorders do)."""
    data = np.asarray(channels)
    data = data if data.ndim == 2 else data[:, None]
    if kind == "float":
        wavfile.write(path, rate, data.astype(np.float32))
        return path
    if kind in ("int16", "int32"):
        full = np.iinfo(kind).max
        wavfile.write(path, rate, np.clip(np.round(data * full), -full, full).astype(kind))
        return path
    whole = np.clip(np.round(data * (2 ** 23 - 1)), -2 ** 23, 2 ** 23 - 1).astype("<i4")
    raw = whole.reshape(-1, 1).view(np.uint8).reshape(-1, 4)[:, :3].tobytes()
    count = data.shape[1]
    basic = struct.pack("<HIIHH", count, rate, rate * count * 3, count * 3, 24)
    if kind == "int24":
        chunks = chunk(b"fmt ", struct.pack("<H", 1) + basic)
    else:
        guid = bytes.fromhex("0100000000001000800000aa00389b71")
        chunks = chunk(b"JUNK", bytes(28)) + chunk(b"LIST", b"INFOICMT\x05\0\0\0take\0\0") \
            + chunk(b"note", b"odd") \
            + chunk(b"fmt ", struct.pack("<H", 0xFFFE) + basic + struct.pack("<HHI", 22, 24, 0) + guid)
    chunks += chunk(b"data", raw)
    with open(path, "wb") as f:
        f.write(b"RIFF" + struct.pack("<I", 4 + len(chunks)) + b"WAVE" + chunks)
    return path


def chunk(name, body):
    return name + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2)


def analyse(program, recording, plan, *options, allow=(0,), out=None):
    """The analysis of a recording; raises unless the exit code is allowed and agrees with the faults."""
    out = out or tempfile.mkdtemp(dir=os.path.dirname(recording)) + "/out"
    done = program.run("analyse", recording, "--stimulus", plan, "--out", out, *options)
    if done.code not in allow:
        raise RuntimeError(f"analyse exits {done.code}: {done.err.strip()[:300]}")
    result = read_json(os.path.join(out, "analysis.json"))
    doubts = [f for f in result["faults"] if f["severity"] == "doubt"]
    if bool(doubts) != (done.code == 4):
        raise RuntimeError(f"analyse exits {done.code} with {len(doubts)} doubts in faults")
    return result


UNGATED = ("--smoothing", "none", "--window", "full")


def compare(side, truth, low, high, timed=True):
    """Worst level error in dB, worst phase error in degrees (modulo 360, after the reported travel time)
    against a function of frequency. Without a loopback (`timed` false) the recording's own zero of time is
    nobody's to know: then one delay is fitted and taken off. Raises unless every grid frequency of the
    band is there and known."""
    response = side["response"]
    f, wanted = np.array(response["frequencyHz"]), grid(low, high)
    if len(f) != len(wanted) or np.max(np.abs(f / wanted - 1)) > 1e-9:
        raise RuntimeError(f"{len(f)} frequencies, {f[0]:.3f} to {f[-1]:.3f} Hz, not {len(wanted)}")
    if not all(response["known"]):
        raise RuntimeError(f"{response['known'].count(False)} frequencies unknown in a clean recording")
    h = truth(f)
    level = np.max(np.abs(known(response["levelDb"]) - 20 * np.log10(np.abs(h))))
    turned = known(response["phaseDeg"]) - np.degrees(np.angle(h))
    turned -= 360 * f * side["travelTimeSeconds"] if timed else f * delay_line(f, turned)
    return level, np.max(np.abs(wrapped(turned)))


def wrapped(degrees):
    return (degrees + 180) % 360 - 180


def delay_line(f, degrees):
    """Degrees a Hz of the line through 0 Hz that fits best, modulo 360 at each point. Begins where the
    grid is dense (a third of a Hz at 20 Hz leaves delays of a second unambiguous) and lets each fit carry
    the next, wider one."""
    first = np.unwrap(np.radians(degrees[:9]))
    slope = np.degrees(np.polyfit(f[:9], first, 1)[0])
    for count in np.unique(np.geomspace(9, len(f), 40).astype(int)):
        slope += np.dot(f[:count],
                        wrapped(degrees[:count] - slope * f[:count])) / np.dot(f[:count], f[:count])
    return slope


def listing(folder):
    """Every path under a folder with size and time, to see that nothing came, went or changed."""
    found = {}
    for root, folders, files in os.walk(folder):
        for name in folders + files:
            path = os.path.join(root, name)
            s = os.lstat(path)
            found[os.path.relpath(path, folder)] = (s.st_mode, s.st_size if name in files else 0,
                                                    s.st_mtime_ns
                                                    if name in files else 0)
    return found
