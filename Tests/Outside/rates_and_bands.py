"""Every rate, band, length, container and channel order that the console program offers, against closed
forms.

Truth is the closed form of second-order sections at exactly the grid's frequencies; smoothed truth is the
mean power over f 2^(+-1/(2N)) of the same form on a fine grid; a calibration is NumPy's interpolation over
log frequency.

What could pass here for the wrong reason: frequencies left out where it is hard (the whole grid must be
there and known); a file reader that scales integers wrongly by a fixed factor on both channels (without
the loopback it shows, and integers are read without one too); a delay found because the same delay was put
into both sides (they differ by 11.44 samples); polarity that is always +1 (one side is turned).
"""
import os

import numpy as np

from support import (UNGATED, System, analyse, compare, delayed, grid, high_pass, known, later, low_pass,
                     main,
                     octave_mean_db, peak, pink_noise, stack, stimulus, write_wav)

DELAY = 240


def monitors(rate, echo=0.1):
    return (System(rate, high_pass(rate, 40), peak(rate, 400, 2, 5), low_pass(rate, 19000, 1),
                   echo_samples=0.004 * rate,
                   echo_gain=echo),
            System(rate, high_pass(rate, 60), peak(rate, 700, 2, -4), echo_samples=0.003 * rate,
                   echo_gain=-echo))


def air(played, both):
    return later(sum(m.run(x) for m, x in zip(both, played.sides())), DELAY)


def truths_of(both, rate, sign=1):
    return [lambda f, m=m: sign * m.at(f) * np.exp(-2j * np.pi * f * DELAY / rate) for m in both]


def judge(report, what, result, truths, low=20, high=20000, level_db=0.01, phase_deg=0.1, timed=True):
    for side, truth in zip(("left", "right"), truths):
        level, phase = compare(result["sides"][side], truth, low, high, timed)
        report.line(level <= level_db and phase <= phase_deg,
                    f"{what}, {side}: within {level:.5f} dB ({level_db:g}),"
                    f" {phase:.4f} degrees ({phase_deg:g})")


def rebuild(report, played, what):
    """The file against its description: Novak, Lotton and Simon's synchronised sweep, JAES 63 (2015) 786."""
    sweep, layout, rate = played.plan["sweep"], played.plan["layout"], played.rate
    n, rise, fall = sweep["samples"], sweep["fadeInSamples"], sweep["fadeOutSamples"]
    length, start_hz = sweep["rateSeconds"], sweep["startHz"]
    t = np.arange(n) / rate
    x = 10 ** (played.plan["levelDbfs"] / 20) * np.sin(2 * np.pi * start_hz * length * np.exp(t / length))
    turns, faults = start_hz * length, []
    if abs(turns - round(turns)) > 1e-9:
        faults.append(f"startHz L = {turns} is not whole")
    starts = (layout["leftStartSample"], layout["rightStartSample"])
    for side, start in zip(played.sides(), starts):
        error = np.max(np.abs(side[start:start + n] - x)[rise:n - fall])
        if error > 1e-7 * 10 ** (played.plan["levelDbfs"] / 20) + 1e-9:
            faults.append(f"a sweep differs from its formula by {error:.1e}")
        if np.any(side[:start]) or np.any(side[start + n:]):
            faults.append("a side sounds outside its sweep")
    if len(played.samples) != layout["totalSamples"] or layout["leadInSamples"] != starts[0]:
        faults.append("lead-in or total is not that of the file")
    gaps = (starts[0], starts[1] - starts[0] - n, len(played.samples) - starts[1] - n)
    if min(gaps) < rate:
        faults.append(f"less than a second of silence: {gaps}")
    frequency = start_hz * np.exp(t / length)
    if frequency[rise] > played.plan["fromHz"] or frequency[n - 1 - fall] < played.plan["toHz"]:
        faults.append(f"full level from {frequency[rise]:.1f} to {frequency[n - 1 - fall]:.0f} Hz only")
    if frequency[-1] > rate / 2 or abs(frequency[-1] / sweep["endHz"] - 1) > 1e-3:
        faults.append(f"ends at {frequency[-1]:.0f} Hz")
    report.line(not faults, f"{what}: the stimulus is what its description says"
                + "".join("; " + f for f in faults))


def rates(program, report, folder):
    for rate in (44100, 48000, 88200, 96000, 192000):
        played = stimulus(program, folder, f"r{rate}", rate=rate, seconds=1)
        both = monitors(rate)
        rebuild(report, played, f"{rate} Hz")
        recording = write_wav(os.path.join(folder, f"c{rate}.wav"), rate,
                              stack(air(played, both), played.samples.sum(1)))
        result = analyse(program, recording, played.path, "--reference-channel", 2, *UNGATED)
        judge(report, f"{rate} Hz", result, truths_of(both, rate))
        report.line(result["sampleRateHz"] == rate, f"{rate} Hz is the rate reported")


def bands(program, report, folder):
    cases = ((48000, 10, 20, 20000), (48000, 1, 50, 5000), (96000, 1, 50, 5000), (44100, 2, 100, 1000))
    for rate, seconds, low, high in cases:
        what = f"{low} to {high} Hz in {seconds} s at {rate} Hz"
        played = stimulus(program, folder, f"b{rate}-{seconds}-{high}", rate=rate, seconds=seconds,
                          **{"from": low, "to": high})
        both = monitors(rate)
        rebuild(report, played, what)
        recording = write_wav(os.path.join(folder, "band.wav"), rate,
                              stack(air(played, both), played.samples.sum(1)))
        judge(report, what, analyse(program, recording, played.path, "--reference-channel", 2, *UNGATED),
              truths_of(both, rate), low, high)


def recordings(program, report, folder):
    """One playing, recorded in many ways."""
    played = stimulus(program, folder, seconds=1, level=-12)
    rate, both = played.rate, monitors(played.rate)
    mic, loop = air(played, both), played.samples.sum(1)
    start = played.plan["layout"]["leftStartSample"]
    late = start - rate // 5
    ways = {
        "begun 3 s early": (stack(later(mic, 3 * rate), later(loop, 3 * rate)), "float", ()),
        "begun 0.2 s before the sweep": (stack(mic[late:], loop[late:]), "float", ()),
        "loopback on 1, microphone on 2": (stack(loop, mic), "float",
                                           ("--microphone-channel", 2, "--reference-channel", 1)),
        "microphone on 3 of 4": (stack(0.3 * loop, loop, mic, -mic), "float",
                                 ("--microphone-channel", 3, "--reference-channel", 2)),
        "an offset of -60 dBFS on both": (stack(mic, np.r_[loop, np.zeros(len(mic) - len(loop))]) + 0.001,
                                          "float", ()),
        "32-bit whole numbers": (stack(mic, loop), "int32", ()),
        "24-bit": (stack(mic, loop), "int24", ()),
        "24-bit extensible, with other chunks": (stack(mic, loop), "extensible", ()),
    }
    for what, (channels, kind, options) in ways.items():
        recording = write_wav(os.path.join(folder, "way.wav"), rate, channels, kind)
        result = analyse(program, recording, played.path, *(options or ("--reference-channel", 2)), *UNGATED)
        judge(report, what, result, truths_of(both, rate))
    # A 16-bit file has rounding noise 98 dB below full scale; after a sweep of 1 s that is some 0.01 dB.
    recording = write_wav(os.path.join(folder, "way.wav"), rate, stack(mic, loop), "int16")
    judge(report, "16-bit", analyse(program, recording, played.path, "--reference-channel", 2, *UNGATED,
                                    allow=(0, 4)),
          truths_of(both, rate), level_db=0.1, phase_deg=1)
    for what, cut in (("without loopback", 0), ("without loopback, begun late", late)):
        recording = write_wav(os.path.join(folder, "way.wav"), rate, mic[cut:], "int24")
        judge(report, what, analyse(program, recording, played.path, *UNGATED), truths_of(both, rate),
              timed=False)
    recording = write_wav(os.path.join(folder, "way.wav"), rate, stack(-mic, loop))
    turned = analyse(program, recording, played.path, "--reference-channel", 2, *UNGATED)
    judge(report, "polarity turned", turned, truths_of(both, rate, -1))
    upright = analyse(program, write_wav(os.path.join(folder, "way.wav"), rate, stack(mic, loop)),
                      played.path, "--reference-channel", 2)
    signs = [r["sides"][s]["polarity"] for r in (turned, upright) for s in ("left", "right")]
    report.line(signs == [-1, -1, 1, 1], f"polarity reads {signs}")


POINTS = np.array([[20, -1.5, 8], [100, 0.2, -3], [1000, 0, 0], [8000, 1.1, -12], [20000, 3.2, -35]])


def calibration(program, report, folder):
    """Taken off in dB over log frequency (numpy.interp); a sensitivity is carried and moves nothing."""
    played = stimulus(program, folder, seconds=1)
    rate, both = played.rate, monitors(played.rate)
    recording = write_wav(os.path.join(folder, "c.wav"), rate,
                          stack(air(played, both), played.samples.sum(1)))
    take_off = lambda f, column: np.interp(np.log(f), np.log(POINTS[:, 0]), POINTS[:, column])
    for columns in (2, 3):
        name = os.path.join(folder, f"microphone-{columns}.txt")
        with open(name, "w", encoding="ascii") as f:
            f.writelines(" ".join(f"{v:g}" for v in row[:columns]) + "\n" for row in POINTS)
        result = analyse(program, recording, played.path, "--reference-channel", 2, "--calibration", name,
                         "--sensitivity", 118.5,
                         "--temperature", 24.5, *UNGATED)
        corrected = [lambda f, t=t: t(f) * 10 ** (-take_off(f, 1) / 20)
                     * (np.exp(-1j * np.radians(take_off(f, 2))) if columns == 3 else 1)
                     for t in truths_of(both, rate)]
        judge(report, f"calibration of {columns} columns", result, corrected)
        carried = (result["sensitivityDbSpl"], result["temperatureC"],
                   os.path.basename(name) in str(result["calibration"]))
        report.line(carried == (118.5, 24.5, True),
                    f"calibration, sensitivity and temperature are carried: {carried}")
    plain = analyse(program, recording, played.path, "--reference-channel", 2, *UNGATED)
    report.line(plain["calibration"] is None and plain["sensitivityDbSpl"] is None,
                "nothing is carried that was not given")


def smoothing(program, report, folder):
    """Only where the whole width lies inside the band asked: beyond it nothing is promised."""
    played = stimulus(program, folder, seconds=2)
    rate, both = played.rate, monitors(played.rate, echo=0)
    recording = write_wav(os.path.join(folder, "c.wav"), rate,
                          stack(air(played, both), played.samples.sum(1)))
    fine = np.arange(1, 24000 * 16) / 16
    power = [np.r_[0, np.abs(m.at(fine)) ** 2] for m in both]
    f = grid(20, 20000)
    for n in (1, 3, 12, 48):
        result = analyse(program, recording, played.path, "--reference-channel", 2, "--smoothing", n,
                         "--window", "full")
        inside = (f * 2 ** (-0.5 / n) >= 20) & (f * 2 ** (0.5 / n) <= 20000)
        for side, p in zip(("left", "right"), power):
            response = result["sides"][side]["response"]
            if len(response["levelDb"]) != len(f) or not np.all(np.array(response["known"])[inside]):
                raise RuntimeError(f"1/{n} octave: grid frequencies are missing or unknown")
            error = np.max(np.abs(known(response["levelDb"]) - octave_mean_db(p, 1 / 16, f, n))[inside])
            report.line(error <= 0.05,
                        f"1/{n} octave, {side}: within {error:.4f} dB of the mean power (0.05)")


def travel(program, report, folder):
    """Left and right through the same system, 240.37 and 251.81 samples away."""
    played = stimulus(program, folder, seconds=3)
    rate, away = played.rate, (240.37, 251.81)
    system = System(rate, high_pass(rate, 45), peak(rate, 1500, 2, 3), low_pass(rate, 21000, 2))
    mic = stack(*(delayed(system.run(x), d) for x, d in zip(played.sides(), away))).sum(1)
    loop = played.samples.sum(1)
    start, length = played.plan["layout"]["leftStartSample"], played.plan["sweep"]["samples"]
    rms = np.sqrt(np.mean(mic[start:start + length] ** 2))
    seeds = (None, 1, 2, 3)
    for seed in seeds:
        noise = 0 if seed is None else 0.01 * rms * pink_noise(len(mic), np.random.default_rng(seed), rate)
        recording = write_wav(os.path.join(folder, "c.wav"), rate, stack(mic + noise, loop))
        result = analyse(program, recording, played.path, "--reference-channel", 2, allow=(0, 4))
        times = [result["sides"][s]["travelTimeSeconds"] * rate for s in ("left", "right")]
        off, bar = times[1] - times[0] - (away[1] - away[0]), 0.001 if seed is None else 0.01
        report.line(abs(off) <= bar,
                    f"right minus left, {'clean' if seed is None else f'noise 40 dB down (seed {seed})'}: "
                                     f"{off:+.5f} samples off ({bar})")
        if seed is None:
            report.line(all(abs(t - d) <= 0.5 for t, d in zip(times, away)),
                        f"travel times {times[0]:.3f}, {times[1]:.3f} samples (within 0.5 of {away})")
    alone = analyse(program, write_wav(os.path.join(folder, "c.wav"), rate, mic), played.path)
    times = [alone["sides"][s]["travelTimeSeconds"] for s in ("left", "right")]
    if None in times:
        report.line(times == [None, None], "without loopback: no travel time is claimed for either side")
    else:
        off = (times[1] - times[0]) * rate - (away[1] - away[0])
        report.line(abs(off) <= 0.001, f"right minus left without loopback: {off:+.5f} samples off (0.001)")


main(rates, bands, recordings, calibration, smoothing, travel)
