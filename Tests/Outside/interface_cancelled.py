"""An interface with a response of its own is cancelled by the loopback channel.

The interface is a second-order Butterworth high-pass at 30 Hz and a 0.3 dB tilt (first-order shelf around 600
Hz), applied to microphone and loopback alike. Truth is the closed form of the monitors' sections without it.

What could pass here for the wrong reason: an interface too gentle to matter (without the loopback the same
recording must show it, and show exactly it); a program that ignores the interface because it smooths
(smoothing is off).
"""
import os

import numpy as np

from support import (UNGATED, System, analyse, compare, high_pass, high_shelf, later, main, peak, stack,
                     stimulus,
                     write_wav)

DELAY = 517


def interface_of(rate):
    return System(rate, high_pass(rate, 30), high_shelf(rate, 600, 0.3), gain=1.0)


def monitors(rate):
    return (System(rate, high_pass(rate, 45), peak(rate, 400, 2, 5), echo_samples=0.004 * rate,
                   echo_gain=0.1),
            System(rate, high_pass(rate, 60), peak(rate, 900, 3, -4), echo_samples=0.003 * rate,
                   echo_gain=-0.2))


def within(report, program, recording, played, truths, what, *options):
    result = analyse(program, recording, played.path, *UNGATED, *options)
    for side, truth in zip(("left", "right"), truths):
        level, phase = compare(result["sides"][side], truth, 20, 20000, timed=bool(options))
        report.line(level <= 0.01 and phase <= 0.1,
                    f"{what}, {side}: within {level:.5f} dB (0.01), {phase:.4f} degrees (0.1)")
    return result


def interface(program, report, folder):
    played = stimulus(program, folder, seconds=2)
    rate, both, box = played.rate, monitors(played.rate), interface_of(played.rate)
    late = lambda f: np.exp(-2j * np.pi * f * DELAY / rate)
    truths = [lambda f, m=m: m.at(f) * late(f) for m in both]
    shown = [lambda f, m=m: m.at(f) * box.at(f) * late(f) for m in both]
    # One response stands for the interface's way out and its way back in; it is linear, order is free.
    mic = later(box.run(sum(m.run(x) for m, x in zip(both, played.sides()))), DELAY)
    of_sum, of_left = box.run(played.samples.sum(1)), box.run(played.samples[:, 0])
    sum_wav = write_wav(os.path.join(folder, "sum.wav"), rate, stack(mic, of_sum))
    left_wav = write_wav(os.path.join(folder, "left.wav"), rate, stack(mic, of_left))

    within(report, program, sum_wav, played, truths, "loopback of the sum", "--reference-channel", 2)
    one = within(report, program, left_wav, played, truths, "loopback of the left alone",
                 "--reference-channel", 2)
    notes = [f for f in one["faults"] if f["severity"] == "note"]
    report.line(any("left" in n["words"].lower() for n in notes),
                f"loopback of the left alone is noted: {[n['code'] for n in notes]}")
    plain = within(report, program, sum_wav, played, shown,
                   "without the loopback the interface is in the curve")
    for side, truth in zip(("left", "right"), truths):
        level, _ = compare(plain["sides"][side], truth, 20, 20000)
        want = np.max(np.abs(20 * np.log10(np.abs(box.at(np.array([20.26]))))))
        report.line(abs(level - want) < 0.1,
                    f"control: without the loopback the {side} is off by {level:.2f} dB"
                    f" (the interface: {want:.2f})")


main(interface)
