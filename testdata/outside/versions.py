"""Echo stdin and the arguments, and name the libraries the other checks use."""
import sys

import ezdxf
import shapely
import shapely.geos

print(sys.stdin.read(), *sys.argv[1:])
print("ezdxf", ezdxf.__version__)
print("shapely", shapely.__version__, "GEOS", shapely.geos.geos_version)
