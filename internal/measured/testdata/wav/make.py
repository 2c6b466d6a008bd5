"""Writes the WAV files of this folder. They are synthetic: five samples chosen
to reach both ends of the range. The encoding is that of Python's own wave
module, an implementation independent of the reader under test; the float and
extensible headers are packed by hand after the format's description.

Run in this folder: python3 make.py
"""
import struct
import wave

SHARES = [0.0, 0.5, -0.25, -1.0]  # of full scale


def pcm(name, width, channels=1):
    full = 1 << (8 * width - 1)
    values = [int(s * full) for s in SHARES] + [full - 1]
    with wave.open(name, "wb") as w:
        w.setnchannels(channels)
        w.setsampwidth(width)
        w.setframerate(48000)
        for v in values:
            for c in range(channels):
                w.writeframes((v if c == 0 else -v // 2).to_bytes(width, "little", signed=True))


def riff(name, fmt, data, extra=b""):
    body = b"WAVE" + b"fmt " + struct.pack("<I", len(fmt)) + fmt + extra
    body += b"data" + struct.pack("<I", len(data)) + data + b"\0" * (len(data) % 2)
    with open(name, "wb") as f:
        f.write(b"RIFF" + struct.pack("<I", len(body)) + body)


pcm("pcm16.wav", 2)
pcm("pcm24.wav", 3)
pcm("pcm32.wav", 4)
pcm("stereo16.wav", 2, channels=2)

floats = struct.pack("<5f", *SHARES, 0.99)
odd = b"LIST" + struct.pack("<I", 5) + b"INFO\0" + b"\0"  # a chunk of odd size with its padding
riff("float32.wav", struct.pack("<HHIIHH", 3, 1, 96000, 384000, 4, 32), floats, odd)

tail = bytes.fromhex("000000001000800000aa00389b71")
extensible = struct.pack("<HHIIHHHHI", 0xFFFE, 1, 48000, 144000, 3, 24, 22, 24, 4) + struct.pack("<H", 1) + tail
with open("pcm24.wav", "rb") as f:
    riff("extensible24.wav", extensible, f.read()[44:59])
