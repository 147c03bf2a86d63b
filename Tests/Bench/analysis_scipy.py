#!/usr/bin/env python3
"""Our analysis against NumPy and SciPy doing the same steps: analysis_scipy.py LIBRARY [WISDOM]

LIBRARY is the benchmarks' shared library; with WISDOM (a file, made if not there) plans are measured.
Both run in this process, one round of the one after a round of the other, one thread, CPU time of the thread.

What could come out right here for the wrong reason: a SciPy that does more than we do, or does it badly. So
its steps are written as one would who knows NumPy (no copies that can be avoided, squares instead of
np.abs), and the ratio that is judged is against the bare steps: transform, divide, transform back, gate,
transform, smooth. A second one, for information, lets SciPy also check the capture as we do: finite, not
clipped, possible in time, offset taken off. Either way it leaves out our loopback of one side, first
arrival between the samples, bass under the sweep, phase, noise, deviation and mask. Both must agree on the
curve.
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
    """A direct sound and a tail of 0.2 s a side, noise 37 dB under the sweep, loopback 64 samples late."""
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


def largest(signal):
    return max(signal.max(), -signal.min())


class Peer:
    """The same steps with NumPy and SciPy."""

    def __init__(self, ours, gate_after, checks):
        self.checks = checks
        self.segment, self.silence = ours.segment, ours.segment - ours.sweep_samples
        self.before, self.after = int(0.1 * RATE), gate_after
        steps = np.arange(np.ceil(48 * np.log2(0.02)), np.floor(48 * np.log2(20.0)) + 1)
        self.frequencies = 1000.0 * 2.0 ** (steps / 48)
        self.gated = max(1 << 16, 1 << (4 * (self.before + self.after) - 1).bit_length())

    def side(self, microphone, reference, offsets):
        x, y = (fft.rfft(self.widened(*pair)) for pair in zip((reference, microphone), offsets))
        power = x.real**2 + x.imag**2
        y *= x.conj()
        y /= power + 1e-10 * power.max()
        bins_per_hz = self.segment / RATE
        low, taper, high = (int(hz * bins_per_hz) for hz in (15.0, 21000.0, 21766.0))
        y[: low + 1] = 0.0
        y[high:] = 0.0
        y[taper:high] *= 0.5 + 0.5 * np.cos(np.pi * np.arange(high - taper) / (high - taper))
        impulse = fft.irfft(y)
        inside = np.abs(impulse[: self.silence])
        arrival = int(np.argmax(inside))
        if self.checks and largest(impulse[self.silence : -240]) > 2.0 * inside[arrival]:
            sys.exit("The sound comes at an impossible time.")
        first = arrival - self.before  # before time zero: the last samples
        before = impulse[first:] if first < 0 else []
        piece = np.concatenate((before, impulse[max(first, 0) : arrival + self.after]))
        piece[: self.before // 2] *= rising(self.before // 2)
        piece[-(self.after // 5) :] *= rising(self.after // 5)[::-1]
        spectrum = fft.rfft(piece, self.gated)
        return self.smoothed(spectrum)

    def smoothed(self, spectrum):
        running = np.concatenate(([0.0], np.cumsum(spectrum.real**2 + spectrum.imag**2)))
        bins_per_hz = self.gated / RATE
        low, high = (self.frequencies * 2.0 ** (sign / 24) * bins_per_hz + 0.5 for sign in (-1, 1))
        places = np.arange(len(running))
        mean = (np.interp(high, places, running) - np.interp(low, places, running)) / (high - low)
        return 10.0 * np.log10(mean)

    def widened(self, signal, offset):
        return np.subtract(signal, offset, dtype=np.float64) if self.checks else signal.astype(np.float64)

    def offset(self, signal, start):
        """Of the lead-in, once the signal has passed the checks."""
        if not 1e-7 < largest(signal) < 0.9995:  # what is not a number fails, too
            sys.exit("The capture is silent, clipped or not finite.")
        return np.mean(signal[start // 4 : start], dtype=np.float64)

    def analyse(self, take, starts):
        microphone, reference = take
        signals = (reference, microphone)
        offsets = [self.offset(signal, starts[0]) if self.checks else 0.0 for signal in signals]
        cuts = [slice(start, start + self.segment) for start in starts]
        return [self.side(microphone[cut], reference[cut], offsets) for cut in cuts]


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
    gate_after = int(ours.timing[0] / 1000.0 * RATE)
    peers = [Peer(ours, gate_after, checks) for checks in (False, True)]
    starts = (ours.left, ours.right)
    for peer in peers:
        difference = np.abs(ours.analyse() - peer.analyse(take, starts)[0])
        apart = difference[peer.frequencies > 40.0].max()
        if not apart < 0.1:
            sys.exit(f"The two do not do the same: their curves lie {apart:.3f} dB apart.")
    mine, theirs = ([], []), ([], [])
    for _ in range(ROUNDS):
        for kind, peer in enumerate(peers):
            before = time.thread_time()
            ours.analyse()
            between = time.thread_time()
            peer.analyse(take, starts)
            theirs[kind].append(1e3 * (time.thread_time() - between))
            mine[kind].append(1e3 * (between - before))
    least = 2.4 if wisdom else 1.8
    bare, checked = (np.array(t) / np.array(m) for t, m in zip(theirs, mine))
    line("ours", mine[0], "ms", f"  curves within {apart:.4f} dB from 40 Hz")
    line("NumPy and SciPy, the same steps", theirs[0], "ms")
    line("ratio", bare, "", f"  at least {least}: {'met' if np.median(bare) >= least else 'MISSED'}")
    line("ratio, SciPy checking the capture too", checked, "", "  for information")


main()
