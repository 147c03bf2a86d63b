"""A street's measured impulse responses come back from the program.

The responses are those of the Debian package jconvolver-config-files (left 48 kHz, 18 650 samples, sum of
squares 6.30394747; right 6.37191653, computed with NumPy), convolved with the stimulus by SciPy. Truth is the
term-by-term Fourier transform of the response file at each frequency of the grid.

What could pass here for the wrong reason: a response so plain that any curve fits (the other side's
spectrum must fall short by decibels); a program that reports the same curve for both sides (same control);
points left out (every grid frequency must be there and known); a phase check that any delay would pass
(the travel time is read from the file, and the delay put in is checked against it).
"""
import os
import shutil
import subprocess
import warnings

import numpy as np
from scipy import signal
from scipy.io import wavfile

from support import UNGATED, analyse, compare, later, main, stack, stimulus, transfer, write_wav

PACKAGE, NAMES = "jconvolver-config-files", ("street2-L.wav", "street2-R.wav")
ENERGY = (6.30394747, 6.37191653)
DELAY = 333


def find_responses():
    paths = []
    if shutil.which("dpkg"):
        paths = subprocess.run(["dpkg", "-L", PACKAGE], capture_output=True, text=True).stdout.split("\n")
    if not any(p.endswith(NAMES[0]) for p in paths):
        homes = os.environ.get("XDG_DATA_DIRS", "/usr/local/share:/usr/share").split(":")
        paths = [os.path.join(root, name) for home in homes
                 for root, _, files in os.walk(os.path.join(home, "jconvolver")) for name in files]
    found = [next((p for p in paths if os.path.basename(p) == name and os.path.exists(p)), None)
             for name in NAMES]
    if None in found:
        raise RuntimeError(f"the street responses are not there: install the Debian package {PACKAGE}")
    return found


def responses(report):
    pair = []
    for path, energy in zip(find_responses(), ENERGY):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", wavfile.WavFileWarning)  # a chunk of notes
            rate, h = wavfile.read(path)
        h = h.astype(float)
        report.line(rate == 48000 and abs(np.sum(h * h) - energy) < 1e-6,
                    f"{os.path.basename(path)} is the file meant")
        pair.append(h)
    return pair


def record(played, pair, scale=0.25):
    """The microphone, DELAY samples late: both sides in one, as in the air."""
    mic = sum(signal.oaconvolve(x, scale * h) for x, h in zip(played.sides(), pair))
    mic[:np.flatnonzero(played.samples.any(1))[0]] = 0  # rounding of the fast convolution
    return later(mic, DELAY)


def street(program, report, folder):
    pair = responses(report)
    played = stimulus(program, folder, seconds=2)
    mic, loop = record(played, pair), played.samples.sum(1)
    both = write_wav(os.path.join(folder, "both.wav"), played.rate, stack(mic, loop))
    alone = write_wav(os.path.join(folder, "alone.wav"), played.rate, mic)
    truths = [lambda f, h=0.25 * h: transfer(h, 48000, f) * np.exp(-2j * np.pi * f * DELAY / 48000)
              for h in pair]

    with_loop = analyse(program, both, played.path, "--reference-channel", 2, *UNGATED)
    without = analyse(program, alone, played.path, *UNGATED)
    for name, result in (("with loopback", with_loop), ("without", without)):
        for side, truth in zip(("left", "right"), truths):
            level, phase = compare(result["sides"][side], truth, 20, 20000, timed=name == "with loopback")
            report.line(level <= 0.01 and phase <= 0.1,
                        f"street {side}, {name}: within {level:.5f} dB (0.01), {phase:.4f} degrees (0.1)")
    for side, truth in zip(("left", "right"), truths[::-1]):
        level, phase = compare(with_loop["sides"][side], truth, 20, 20000)
        report.line(level > 3 and phase > 30,
                    f"control: {side} is not the other side ({level:.0f} dB, {phase:.0f} degrees apart)")
    # Onset (first sample within 20 dB of the largest): left 59, right 51. A time zero at the largest sample
    # of the left (2675) would be 54.5 ms late.
    for side, onset in (("left", 59), ("right", 51)):
        time = with_loop["sides"][side]["travelTimeSeconds"]
        late = time * 48000 - DELAY
        report.line(abs(late - onset) <= 96,
                    f"street {side}: arrives at sample {late:.1f} of the response (onset {onset},"
                    " within 2 ms)")
    silent = all(v is None for s in ("left", "right") for v in with_loop["sides"][s]["response"]["noiseDb"])
    report.line(silent, "street: no noise figure is invented where the lead-in is digitally silent")


main(street)
