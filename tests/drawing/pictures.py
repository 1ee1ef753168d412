"""Pictures as rows of grey values, from PNG (8 bits, RGB or RGBA) and raw PPM, and how much two differ."""
import struct
import zlib


def unfiltered(data, height, stride, step):
    """The rows of a PNG without the filters of its chapter 9."""
    rows, before, at = [], bytearray(stride), 0
    for _ in range(height):
        kind, row = data[at], bytearray(data[at + 1:at + 1 + stride])
        at += stride + 1
        if kind == 1:
            for i in range(step, stride):
                row[i] = (row[i] + row[i - step]) & 255
        elif kind == 2:
            row = bytearray((a + b) & 255 for a, b in zip(row, before))
        elif kind == 3:
            for i in range(stride):
                row[i] = (row[i] + ((row[i - step] if i >= step else 0) + before[i]) // 2) & 255
        elif kind == 4:
            for i in range(stride):
                left, corner = (row[i - step], before[i - step]) if i >= step else (0, 0)
                guess = left + before[i] - corner
                near = min((left, before[i], corner), key=lambda value: abs(guess - value))
                row[i] = (row[i] + near) & 255
        rows.append(row)
        before = row
    return rows


def chunks(data):
    at = 8
    while at < len(data):
        size, kind = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + size]
        assert zlib.crc32(kind + body) == struct.unpack(">I", data[at + 8 + size:at + 12 + size])[0], kind
        yield kind.decode(), body
        at += size + 12


def png(path):
    """(width, height, rows of bytes, bytes a pixel, chunks by name)"""
    data = path.read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    found, pixels = {}, b""
    for kind, body in chunks(data):
        found[kind] = body
        pixels += body if kind == "IDAT" else b""
    width, height, depth, colour, _, _, interlace = struct.unpack(">IIBBBBB", found["IHDR"])
    assert depth == 8 and colour in (2, 6) and interlace == 0
    step = 3 if colour == 2 else 4
    return width, height, unfiltered(zlib.decompress(pixels), height, width * step, step), step, found


def ppm(path):
    data = path.read_bytes()
    magic, width, height, most = data.split(maxsplit=4)[:4]
    assert magic == b"P6" and most == b"255"
    width, height = int(width), int(height)
    pixels = data[len(data) - 3 * width * height:]
    return width, height, [pixels[i * 3 * width:(i + 1) * 3 * width] for i in range(height)], 3


def blocks(picture, size=14):
    """The mean of green, which carries most of what is seen, in blocks of size x size: what an eye sees at a glance."""
    width, height, rows, step = picture[:4]
    out = []
    for top in range(0, height - size + 1, size):
        greens = [rows[top + i][1::step] for i in range(size)]
        sums = [sum(column) for column in zip(*greens)]
        out.append([sum(sums[left:left + size]) / size ** 2 for left in range(0, width - size + 1, size)])
    return out


def difference(a, b):
    """Mean and greatest difference of two pictures, block by block, of 255."""
    rows = [[abs(x - y) for x, y in zip(p, q)] for p, q in zip(blocks(a), blocks(b))]
    return sum(map(sum, rows)) / sum(map(len, rows)), max(map(max, rows))
