#!/usr/bin/env python3
"""Judges a file that a host rendered: check_render.py FILE.wav PEAK [--within 1e-4]

Both channels must have that peak in each tenth of a second: a mix that was faded, muted or replaced for a moment
shows itself. Prints "holds: ..." or "falls short: ..."; exit status 1 if it falls short.
"""
import argparse
import sys
import warnings

import numpy as np
from scipy.io import wavfile


def main():
    parser = argparse.ArgumentParser(description="Judges a rendered file.")
    parser.add_argument("file")
    parser.add_argument("peak", type=float)
    parser.add_argument("--within", type=float, default=1e-4)
    asked = parser.parse_args()
    warnings.simplefilter("ignore", wavfile.WavFileWarning)
    try:
        rate, audio = wavfile.read(asked.file)
    except (OSError, ValueError) as fault:
        print(f"falls short: the render cannot be read: {fault}")
        return 1
    step = rate // 10
    tenths = np.abs(audio[:len(audio) // step * step].astype(float)).reshape(-1, step, audio.shape[1]).max(axis=1)
    worst = float(np.max(np.abs(tenths - asked.peak))) if len(tenths) else np.inf
    if len(tenths) < 20 or audio.shape[1] != 2 or worst > asked.within:
        print(f"falls short: {len(tenths)} tenths of a second, peaks {tenths.min(initial=9):.6f} to "
              f"{tenths.max(initial=0):.6f}, not {asked.peak:.6f}")
        return 1
    print(f"holds: peak {tenths.max():.6f} in each of {len(tenths)} tenths of a second")
    return 0


if __name__ == "__main__":
    sys.exit(main())
