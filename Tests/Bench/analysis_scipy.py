#!/usr/bin/env python3
"""Our analysis against NumPy and SciPy doing the same steps: analysis_scipy.py LIBRARY [WISDOM]

LIBRARY is the benchmarks' shared library; with WISDOM (a file, made if it is not there) measured plans are used. Both run in
this process, one round of the one after a round of the other, one thread, CPU time of the thread.

What could come out right here for the wrong reason: a SciPy that does more than we do, or does it badly. So its steps
are written as one would who knows NumPy (no copies that can be avoided, squares instead of np.abs), it leaves out what
we do besides (checks of the capture, first arrival between the samples, the bass under the sweep, noise, deviation
and mask), and both must agree on the curve.
"""

import ctypes
import sys
import time

import numpy as np
from scipy import fft

RATE = 48000.0
ROUNDS = 31


class Ours:
    def __init__(self, path, wisdom):
        self.library = ctypes.CDLL(path)
        if wisdom:
            self.library.plumbline_bench_measure_plans(wisdom.encode())
        layout = (ctypes.c_longlong * 5)()
        self.library.plumbline_bench_layout(layout)
        self.total, self.left, self.right, self.sweep_samples, self.segment = layout
        self.levels = np.zeros(1000)
        self.timing = np.zeros(2)

    def sweep(self):
        samples = np.zeros(self.sweep_samples, np.float32)
        self.library.plumbline_bench_sweep(pointer(samples))
        return samples

    def prepare(self, microphone, reference):
        self.library.plumbline_bench_prepare(pointer(microphone), pointer(reference))

    def analyse(self):
        count = self.library.plumbline_bench_analyse(pointer(self.levels), pointer(self.timing))
        if count < 0:
            sys.exit("Our analysis refused the benchmark's own take.")
        return self.levels[:count]


def pointer(array):
    return ctypes.c_void_p(array.ctypes.data)


def make_take(ours):
    """A direct sound and a tail of 0.2 s a side, white noise 37 dB under the sweep, the loopback 64 samples late."""
    random = np.random.default_rng(20)
    sweep = ours.sweep()
    microphone = 1e-3 * random.standard_normal(ours.total)
    reference = np.zeros(ours.total)
    for start in (ours.left, ours.right):
        decay = np.exp(-np.log(1000.0) / (0.2 * RATE) * np.arange(int(0.4 * RATE)))
        taps = 0.2 / np.sqrt(np.sum(decay**2)) * decay * random.standard_normal(len(decay))
        taps[0] = 1.0
        heard = fft.irfft(fft.rfft(sweep.astype(float), 2 * ours.segment) * fft.rfft(taps, 2 * ours.segment))
        first = start + 64 + 480
        end = min(ours.total, first + ours.segment)
        microphone[first:end] += heard[: end - first]
        reference[start + 64 : start + 64 + len(sweep)] += sweep
    return microphone.astype(np.float32), reference.astype(np.float32)


def rising(count):
    return 0.5 - 0.5 * np.cos(np.pi * (np.arange(count) + 0.5) / count)


class Peer:
    """The same steps with NumPy and SciPy."""

    def __init__(self, ours, gate_after):
        self.segment = ours.segment
        self.before, self.after = int(0.1 * RATE), gate_after
        steps = np.arange(np.ceil(48 * np.log2(0.02)), np.floor(48 * np.log2(20.0)) + 1)
        self.frequencies = 1000.0 * 2.0 ** (steps / 48)
        self.gated = max(1 << 16, 1 << (4 * (self.before + self.after) - 1).bit_length())

    def side(self, microphone, reference):
        x = fft.rfft(reference.astype(np.float64))
        y = fft.rfft(microphone.astype(np.float64))
        power = x.real**2 + x.imag**2
        y *= x.conj()
        y /= power + 1e-10 * power.max()
        bins_per_hz = self.segment / RATE
        low, taper, high = (int(hz * bins_per_hz) for hz in (15.0, 21000.0, 21766.0))
        y[: low + 1] = 0.0
        y[high:] = 0.0
        y[taper:high] *= 0.5 + 0.5 * np.cos(np.pi * np.arange(high - taper) / (high - taper))
        impulse = fft.irfft(y)
        arrival = int(np.argmax(np.abs(impulse[: int(RATE)])))
        first = arrival - self.before  # before time zero: the last samples
        piece = np.concatenate((impulse[first:] if first < 0 else [], impulse[max(first, 0) : arrival + self.after]))
        piece[: self.before // 2] *= rising(self.before // 2)
        piece[-(self.after // 5) :] *= rising(self.after // 5)[::-1]
        spectrum = fft.rfft(piece, self.gated)
        return self.smoothed(spectrum)

    def smoothed(self, spectrum):
        running = np.concatenate(([0.0], np.cumsum(spectrum.real**2 + spectrum.imag**2)))
        bins_per_hz = self.gated / RATE
        edges = (self.frequencies * 2.0 ** (sign / 24) * bins_per_hz + 0.5 for sign in (-1, 1))
        low, high = edges
        places = np.arange(len(running))
        mean = (np.interp(high, places, running) - np.interp(low, places, running)) / (high - low)
        return 10.0 * np.log10(mean)

    def analyse(self, take, starts):
        return [self.side(*(signal[start : start + self.segment] for signal in take)) for start in starts]


def quartiles(values):
    return np.percentile(values, (50, 25, 75))


def line(what, values, unit, after=""):
    median, lower, upper = quartiles(values)
    print(f"  {what:<40} {median:9.3f} {unit:<3} ({lower:.3f} .. {upper:.3f}){after}")


def main():
    wisdom = sys.argv[2] if len(sys.argv) > 2 else None
    ours = Ours(sys.argv[1], wisdom)
    take = make_take(ours)
    ours.prepare(*take)
    ours.analyse()  # plans everything, too
    peer = Peer(ours, int(ours.timing[0] / 1000.0 * RATE))
    starts = (ours.left, ours.right)
    apart = np.abs(ours.analyse() - peer.analyse(take, starts)[0])[peer.frequencies > 40.0].max()
    if not apart < 0.1:
        sys.exit(f"The two do not do the same: their curves lie {apart:.3f} dB apart.")
    mine, theirs = [], []
    for _ in range(ROUNDS):
        before = time.thread_time()
        ours.analyse()
        between = time.thread_time()
        peer.analyse(take, starts)
        mine.append(1e3 * (between - before))
        theirs.append(1e3 * (time.thread_time() - between))
    least = 2.4 if wisdom else 1.8
    ratio = np.array(theirs) / np.array(mine)
    line("ours", mine, "ms", f"  curves within {apart:.4f} dB from 40 Hz")
    line("NumPy and SciPy, the same steps", theirs, "ms")
    line("ratio", ratio, "", f"  at least {least}: {'met' if np.median(ratio) >= least else 'MISSED'}")


main()
