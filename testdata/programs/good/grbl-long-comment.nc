G21 G17 G90
G0 Z5
S12000 M3 F300
(a comment that is far longer than the seventy-nine characters that a line may hold, because comments do not count)
G1 X5
M5
M30
