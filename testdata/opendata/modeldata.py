"""Writes data frames of the R package modeldata (Debian r-cran-modeldata) as CSV.

usage: modeldata.py .../modeldata/data/Rdata FOLDER NAME...

R keeps a package's data in two files: an index (.rdx) and the pieces (.rdb),
each compressed by itself behind its length. Needs Debian's python3-rdata.
"""
import bz2
import gzip
import lzma
import sys
import warnings
import zlib

import rdata

warnings.simplefilter("ignore")


def unserialize(data):
    return rdata.conversion.convert(rdata.parser._parser.parse_rdata_binary(memoryview(data)))


def unpack(piece):
    kind, data = piece[4:5], piece[5:]
    if kind == b"2":
        return bz2.decompress(data)
    if kind == b"Z":
        return lzma.decompress(data, lzma.FORMAT_RAW, filters=[{"id": lzma.FILTER_LZMA2, "preset": 6}])
    return zlib.decompress(piece[4:])


def main(base, folder, *names):
    index = unserialize(gzip.open(base + ".rdx").read())["variables"]
    pieces = open(base + ".rdb", "rb").read()
    for name in names:
        start, length = (int(n) for n in index[name])
        unserialize(unpack(pieces[start : start + length])).to_csv(f"{folder}/{name}.csv", index=False)


main(*sys.argv[1:])
