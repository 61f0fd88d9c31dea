#!/bin/sh
# The main job on an invented shop: builds the program, starts a shop folder in
# ./demo, prints the setting of its cutter for two boards and writes setup block
# and fence-offset gauge in every format. Needs Go alone; run by "make demo".
set -eu
rm -rf demo
mkdir demo
"${GO:-go}" build -o demo/blockwright ./cmd/blockwright
cd demo

run() {
	printf '\n$ blockwright %s\n' "$*"
	./blockwright "$@"
}

run init shop
cd shop
run() {
	printf '\n$ blockwright %s\n' "$*"
	../blockwright "$@"
}
run setting ridge-lock --stock 19mm
run setting ridge-lock --stock 3/4in
run make block gauge --cutter ridge-lock --stock 19mm,3/4in
run shelf verify
run readback fixtures/ridge-lock-19mm-block/ridge-lock-19mm-block.ngc --against fixtures/ridge-lock-19mm-block/ridge-lock-19mm-block.dxf

cat <<'EOF'

Where to look, below demo/shop:
  shop.toml, cutters/ridge-lock.toml     the invented shop and its cutter: change them to yours
  fixtures/                              the shelf: a folder for each fixture
  fixtures/ridge-lock-19mm-block/        height setup block; open its .svg in a browser
  fixtures/ridge-lock-19mm-gauge-pin/    fence-offset gauge
  in each, *.ngc and *.nc                milling programs, each with an engraving and a frame program
  in each, *.dxf                         the same geometry for other programs
  in each, fixture.toml                  what it was made from
EOF
