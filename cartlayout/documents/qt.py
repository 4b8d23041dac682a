"""What to say where Qt cannot start because the system lacks its libraries, or a screen.

Qt itself ends the process with a line for programmers; this looks first and
says which packages to install. It imports no Qt.
"""

import ctypes
import os
import sys

# Library -> the package that brings it, Debian's name and Fedora's.
_FOR_DRAWING = {
    "libEGL.so.1": ("libegl1", "mesa-libEGL"),
    "libGL.so.1": ("libgl1", "mesa-libGL"),
    "libfontconfig.so.1": ("libfontconfig1", "fontconfig"),
    "libxkbcommon.so.0": ("libxkbcommon0", "libxkbcommon"),
    "libdbus-1.so.3": ("libdbus-1-3", "dbus-libs"),
    "libglib-2.0.so.0": ("libglib2.0-0", "glib2"),
}
_FOR_X11 = {
    "libxkbcommon-x11.so.0": ("libxkbcommon-x11-0", "libxkbcommon-x11"),
    "libX11-xcb.so.1": ("libx11-xcb1", "libX11-xcb"),
    "libxcb-cursor.so.0": ("libxcb-cursor0", "xcb-util-cursor"),
    "libxcb-icccm.so.4": ("libxcb-icccm4", "xcb-util-wm"),
    "libxcb-image.so.0": ("libxcb-image0", "xcb-util-image"),
    "libxcb-keysyms.so.1": ("libxcb-keysyms1", "xcb-util-keysyms"),
    "libxcb-randr.so.0": ("libxcb-randr0", "libxcb"),
    "libxcb-render-util.so.0": ("libxcb-render-util0", "xcb-util-renderutil"),
    "libxcb-shape.so.0": ("libxcb-shape0", "libxcb"),
    "libxcb-shm.so.0": ("libxcb-shm0", "libxcb"),
    "libxcb-sync.so.1": ("libxcb-sync1", "libxcb"),
    "libxcb-xfixes.so.0": ("libxcb-xfixes0", "libxcb"),
    "libxcb-xkb.so.1": ("libxcb-xkb1", "libxcb"),
}
_WITHOUT = "'cartlayout check' and 'cartlayout export' need no screen."


def why_no_window() -> str:
    """Say why a window cannot be opened on this machine; empty if nothing is known to be amiss.

    Looks only where Qt would choose the platform by itself: a platform that the
    person names in QT_QPA_PLATFORM is theirs to answer for.
    """
    if not sys.platform.startswith("linux") or os.environ.get("QT_QPA_PLATFORM"):
        return ""
    x11, wayland = os.environ.get("DISPLAY"), os.environ.get("WAYLAND_DISPLAY")
    if not x11 and not wayland:
        return (
            "there is no screen to open the window on (neither DISPLAY nor WAYLAND_DISPLAY is "
            f"set). Start it from a desktop session. {_WITHOUT}"
        )
    needed = _FOR_DRAWING if wayland else {**_FOR_DRAWING, **_FOR_X11}
    absent = [library for library in needed if not _loads(library)]
    return _install(absent, needed) if absent else ""


def missing_libraries(error: ImportError) -> str:
    """Say which packages to install so that the drawing library loads."""
    absent = [library for library in _FOR_DRAWING if not _loads(library) or library in str(error)]
    if sys.platform.startswith("linux") and absent:
        return _install(absent, _FOR_DRAWING)
    return (
        f"the drawing library could not be loaded ({error}). Install the program again as the "
        "README says. 'cartlayout check' works without it."
    )


def _install(absent: list[str], packages: dict[str, tuple[str, str]]) -> str:
    debian, fedora = (
        " ".join(dict.fromkeys(packages[library][at] for library in absent)) for at in (0, 1)
    )
    return "\n".join(
        (
            f"this machine lacks system libraries that Qt needs ({', '.join(absent)}).",
            "Install them and start again:",
            f"  sudo apt-get install -y {debian}      (Debian, Ubuntu)",
            f"  sudo dnf install -y {fedora}      (Fedora)",
            "'cartlayout check' works without them.",
        )
    )


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
