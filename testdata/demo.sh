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
run readback out/ridge-lock-19mm-block.ngc --against out/ridge-lock-19mm-block.dxf

cat <<'EOF'

Where to look, below demo/shop:
  shop.toml, cutters/ridge-lock.toml     the invented shop and its cutter: change them to yours
  out/ridge-lock-19mm-block.svg          drawing of the height setup block; open it in a browser
  out/ridge-lock-19mm-gauge-pin.svg      drawing of the fence-offset gauge
  out/*.ngc, out/*.nc                    milling programs, each with an engraving and a frame program
  out/*.dxf                              the same geometry for other programs
EOF
