"""Is there anything to draw with? Asked before the first render, which would otherwise end the process.

VTK opens the graphics libraries only when it renders, and a render without them is a crash that no
`except` sees; so each library is looked for by hand first.
"""

from __future__ import annotations

import ctypes
import os
import sys

PACKAGES = "libegl1 libgl1-mesa-dri"
GLX = "libgl1"
EGL_WINDOW = "vtkEGLRenderWindow"


class NoGraphics(RuntimeError):
    """Nothing on this machine can draw; the message is one line that says what to install."""


class NoDisplay(NoGraphics):
    """It can draw into files but there is no screen for a window."""


def _loads(*names: str) -> ctypes.CDLL | None:
    for name in names:
        try:
            return ctypes.CDLL(name)
        except OSError:
            continue
    return None


def _is_linux() -> bool:
    return sys.platform.startswith("linux")


def has_display() -> bool:
    """Whether a window can be opened: on Linux an X server with OpenGL, elsewhere taken for granted."""
    return not _no_window()


def _no_window() -> str:
    """Why a window cannot be opened, '' where it can."""
    if not _is_linux():
        return ""
    x11, name = _loads("libX11.so.6"), os.environ.get("DISPLAY")
    if not name or x11 is None:
        return "no display for a window: set DISPLAY"
    x11.XOpenDisplay.restype = ctypes.c_void_p
    x11.XQueryExtension.argtypes = [ctypes.c_void_p, ctypes.c_char_p, *[ctypes.POINTER(ctypes.c_int)] * 3]
    x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
    server = x11.XOpenDisplay(None)
    if not server:
        return f"no display for a window: nothing answers at DISPLAY={name}"
    drawn = x11.XQueryExtension(server, b"GLX", *(ctypes.byref(ctypes.c_int()) for _ in range(3)))
    x11.XCloseDisplay(server)
    if not drawn:
        return f"no window: the display {name} has no OpenGL (GLX)"
    if _loads("libGLX.so.0", "libGL.so.1") is None:
        return f"no window: no OpenGL for displays; on Debian or Ubuntu install it with: apt install {GLX}"
    return ""


def egl_works() -> bool:
    """Whether VTK can draw without a screen through EGL; safe to ask where it cannot."""
    if _loads("libEGL.so.1", "libEGL.so") is None:
        return False
    from vtkmodules.vtkCommonCore import vtkLogger
    from vtkmodules.vtkRenderingOpenGL2 import vtkEGLRenderWindow

    shown = vtkLogger.GetCurrentVerbosityCutoff()
    vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_OFF)
    try:
        window = vtkEGLRenderWindow()
        window.SetOffScreenRendering(1)
        return bool(window.SupportsOpenGL())
    finally:
        vtkLogger.SetStderrVerbosity(shown)


def require(window: bool = False) -> None:
    """Make sure a render will work, and choose EGL where there is no screen.

    With window=True a screen is needed as well. Raises NoDisplay or NoGraphics.
    """
    if not _is_linux():
        return
    if has_display():
        return
    if window:
        raise NoDisplay(f"{_no_window()}; or write a file instead with --out FILE.gif")
    if not egl_works():
        raise NoGraphics(
            f"cannot draw: no OpenGL found; on Debian or Ubuntu install it with: apt install {PACKAGES}"
        )
    os.environ["VTK_DEFAULT_OPENGL_WINDOW"] = EGL_WINDOW
