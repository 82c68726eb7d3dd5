"""A soundtrack as a wave file of 16 bits, which every browser plays."""

import wave
from io import BytesIO

import numpy as np

from trackread.film.sound import FULL_SCALE, Soundtrack


def wave_of(sound: Soundtrack) -> bytes:
    """The file: sample k of the sound is sample k of the file, to the nearest of 16 bits."""
    samples = sound.samples
    if samples.dtype != np.int16:
        samples = np.clip(np.rint(samples * np.float32(FULL_SCALE)), -FULL_SCALE, FULL_SCALE - 1).astype(np.int16)
    target = BytesIO()
    with wave.open(target, "wb") as file:
        file.setnchannels(1 if samples.ndim == 1 else samples.shape[1])
        file.setsampwidth(2)
        file.setframerate(sound.sample_rate)
        file.writeframes(samples.astype("<i2").tobytes())
    return target.getvalue()
