G21 G17 G90
G0 Z5
S12000 M3 F300
G1 X5 ; a note
; another, with (brackets)
G1 X6 (and ; here)
M5
M30
