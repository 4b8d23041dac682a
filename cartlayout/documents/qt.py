"""What to say where Qt cannot start because the system lacks its libraries."""

import sys

_DEBIAN = (
    "libegl1 libgl1 libxkbcommon0 libxkbcommon-x11-0 libdbus-1-3 libfontconfig1 "
    "libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1 libxcb-shape0"
)
_FEDORA = (
    "mesa-libEGL mesa-libGL libxkbcommon libxkbcommon-x11 dbus-libs fontconfig "
    "xcb-util-cursor xcb-util-wm xcb-util-keysyms"
)


def missing_libraries(error: ImportError) -> str:
    """Say which packages to install so that the error goes away."""
    lines = [f"the drawing library could not be loaded ({error})."]
    if sys.platform.startswith("linux") and ".so" in str(error):
        lines += [
            "This machine lacks system libraries that Qt needs. Install them with",
            f"  sudo apt-get install -y {_DEBIAN}      (Debian, Ubuntu)",
            f"  sudo dnf install -y {_FEDORA}      (Fedora)",
            "and start again. 'cartlayout check' works without them.",
        ]
    else:
        lines.append("Install the program again as the README says: pip install -e .")
    return "\n".join(lines)
