#!/usr/bin/env bash
# Writes encoder_frames.csv: sizes of the frames of real encoders (Debian 12: ffmpeg 5.1 with libx264, libx265), to be sent
# through the links of a storm. Needs the package ffmpeg, which the tests do not: they read the file.
#   bash make_traces.sh
# The picture is made: a scene that stands still for 2 s and then moves, with the noise of a sensor.
set -euo pipefail
cd "$(dirname "$0")"
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
scene="testsrc2=size=352x288:rate=25:duration=8,loop=loop=50:size=1:start=0,trim=duration=8,noise=alls=12:allf=t:all_seed=1"

encode() { # NAME SUFFIX options
  local name=$1 file=$scratch/$1.$2
  shift 2
  ffmpeg -loglevel error -f lavfi -i "$scene" -pix_fmt yuv420p -threads 1 "$@" "$file"
  # Packets in the order of decoding: no B frames anywhere, so it is the order of time.
  ffprobe -loglevel error -select_streams v -show_entries packet=flags,size -of csv=p=0 "$file" |
    awk -F, -v name="$name" '{ print name "," NR - 1 "," ($2 ~ /K/ ? 1 : 0) "," $1 }'
}

{
  echo "encoder,frame,key,bytes"
  encode h264_free h264 -c:v libx264 -preset veryfast -crf 26 -bf 0 -g 25 -sc_threshold 0
  encode h264_capped h264 -c:v libx264 -preset veryfast -bf 0 -g 50 -sc_threshold 0 -b:v 600k -maxrate 600k -bufsize 300k \
    -x264-params nal-hrd=vbr:threads=1
  encode h265_free hevc -c:v libx265 -preset ultrafast -crf 30 -x265-params "bframes=0:keyint=50:min-keyint=50:scenecut=0:log-level=error:pools=1:frame-threads=1"
  encode mjpeg mjpeg -c:v mjpeg -pix_fmt yuvj420p -q:v 8
} >encoder_frames.csv
