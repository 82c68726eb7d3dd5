"""ffmpeg, an independent reader and writer of sound files: the one inside the imageio-ffmpeg package."""

import imageio_ffmpeg

FFMPEG = imageio_ffmpeg.get_ffmpeg_exe()
