"""The one place where a theme becomes Qt's palette and style sheet."""

from PySide6.QtGui import QColor, QPalette

from ..documents.theme import FAMILY, SPACE, TYPE, Theme


def palette(theme: Theme) -> QPalette:
    """The palette of a theme, for what the style sheet does not reach."""
    made = QPalette()
    roles = {
        QPalette.ColorRole.Window: theme.panel,
        QPalette.ColorRole.WindowText: theme.ink,
        QPalette.ColorRole.Base: theme.field,
        QPalette.ColorRole.AlternateBase: theme.track,
        QPalette.ColorRole.Text: theme.ink,
        QPalette.ColorRole.PlaceholderText: theme.ink_muted,
        QPalette.ColorRole.Button: theme.panel,
        QPalette.ColorRole.ButtonText: theme.ink,
        QPalette.ColorRole.BrightText: theme.stop.ink,
        QPalette.ColorRole.Highlight: theme.selection,
        QPalette.ColorRole.HighlightedText: "#ffffff" if theme.name == "light" else "#101414",
        QPalette.ColorRole.ToolTipBase: theme.panel_raised,
        QPalette.ColorRole.ToolTipText: theme.ink,
        QPalette.ColorRole.Link: theme.link,
        QPalette.ColorRole.LinkVisited: theme.link,
        QPalette.ColorRole.Mid: theme.line,
        QPalette.ColorRole.Dark: theme.line_strong,
        QPalette.ColorRole.Light: theme.panel_raised,
    }
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    for role in (
        QPalette.ColorRole.Text,
        QPalette.ColorRole.WindowText,
        QPalette.ColorRole.ButtonText,
    ):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.ghost_ink))
    return made


def style_sheet(theme: Theme) -> str:
    """The style sheet of a theme, set once on the main window."""
    t = theme
    carried = "".join(
        f'QLabel[carried="{number}"] {{ background: {accent.fill}; color: {accent.on_fill}; '
        "border-radius: 4px; padding: 3px 8px; font-weight: 600; }\n"
        for number, accent in enumerate(theme.circuits)
    )
    return f"""
* {{ font-family: "{FAMILY}"; font-size: {TYPE.body}px; color: {t.ink}; outline: none; }}
QMainWindow, QDialog, QWidget#panel, QWidget#board, QScrollArea, QWidget#scrolled {{
    background: {t.panel}; border: none; }}
QMenuBar {{ background: {t.bar}; border-bottom: 1px solid {t.line}; padding: 1px 4px; }}
QMenuBar::item {{ padding: 4px 9px; border-radius: 4px; background: transparent; }}
QMenuBar::item:selected, QMenuBar::item:pressed {{ background: {t.selection_tint}; }}
QMenu {{ background: {t.panel_raised}; border: 1px solid {t.line_strong}; padding: 4px; }}
QMenu::item {{ padding: 5px 28px 5px 12px; border-radius: 4px; }}
QMenu::item:selected {{ background: {t.selection_tint}; }}
QMenu::item:disabled {{ color: {t.ghost_ink}; }}
QMenu::separator {{ height: 1px; background: {t.line}; margin: 4px 6px; }}
QMenu::indicator {{ width: 12px; height: 12px; margin-left: 6px; }}
QMenu::indicator:checked {{ background: {t.primary}; border-radius: 3px;
    image: url(icons:tick-{t.name}.svg); }}
QMenu::indicator:unchecked {{ border: 1px solid {t.line_strong}; border-radius: 3px; }}
QToolBar {{ background: {t.bar}; border: none; border-bottom: 1px solid {t.line};
    spacing: {SPACE.small}px; padding: 5px 8px; }}
QToolBar::separator {{ background: {t.line}; width: 1px; margin: 4px 2px; }}
QToolButton {{ border: 1px solid transparent; border-radius: {SPACE.radius}px; padding: 4px 7px;
    background: transparent; }}
QToolBar > QToolButton, QToolButton[in-bar="true"] {{ padding: 4px; }}
QToolBar > QToolButton#qt_toolbar_ext_button {{ padding: 0; border: none; }}
QToolButton:hover {{ background: {t.track}; }}
QToolButton:pressed {{ background: {t.selection_tint}; }}
QToolButton:focus {{ border-color: {t.selection}; }}
QToolButton:disabled {{ color: {t.ghost_ink}; }}
QToolButton[segment="true"] {{ border: 1px solid {t.line_strong}; border-radius: 0;
    background: {t.field}; padding: 4px 9px; margin: 0; }}
QToolButton[segment="true"][end="first"] {{ border-top-left-radius: 6px;
    border-bottom-left-radius: 6px; }}
QToolButton[segment="true"][end="last"] {{ border-top-right-radius: 6px;
    border-bottom-right-radius: 6px; }}
QToolButton[segment="true"]:hover {{ background: {t.track}; }}
QToolButton[segment="true"]:checked {{ background: {t.primary}; color: {t.on_primary};
    border-color: {t.primary}; font-weight: 600; }}
QToolButton[segment="true"]:focus {{ border-color: {t.selection}; }}
QToolButton[chip="true"] {{ border: 1px solid {t.line_strong}; border-radius: 11px;
    background: {t.field}; padding: 2px 9px; color: {t.ink_muted}; }}
QToolButton[chip="true"]:hover {{ background: {t.track}; }}
QToolButton[chip="true"]:checked {{ background: {t.selection_tint}; color: {t.ink};
    border-color: {t.selection}; }}
QToolButton[chip="true"]:focus {{ border-color: {t.selection}; }}
QLabel {{ background: transparent; }}
QLabel[role="heading"] {{ font-size: {TYPE.title}px; font-weight: 600; }}
QLabel[role="title"] {{ font-size: {TYPE.strong}px; font-weight: 600; }}
QLabel[role="strong"] {{ font-weight: 600; }}
QLabel[role="muted"] {{ color: {t.ink_muted}; }}
QLabel[role="caption"] {{ color: {t.ink_muted}; font-size: {TYPE.caption}px; }}
QLabel[role="link"] {{ color: {t.link}; }}
QLabel[role="error"] {{ color: {t.stop.ink}; font-size: {TYPE.caption}px; }}
QLabel[state="stop"] {{ color: {t.stop.ink}; font-weight: 600; }}
QLabel[state="care"] {{ color: {t.care.ink}; font-weight: 600; }}
QLabel[state="ok"] {{ color: {t.ok.ink}; font-weight: 600; }}
{carried}QLabel#planHint {{ color: {t.ink_muted}; }}
QFrame#planFocus {{ border: 2px solid {t.selection}; background: transparent; }}
QLabel:disabled {{ color: {t.ghost_ink}; }}
QLineEdit, QPlainTextEdit, QComboBox, QSpinBox, QDoubleSpinBox {{ background: {t.field};
    border: 1px solid {t.line_strong}; border-radius: 4px; padding: 2px 6px; min-height: 18px;
    selection-background-color: {t.selection}; }}
QLineEdit:hover, QComboBox:hover, QPlainTextEdit:hover {{ border-color: {t.ink_muted}; }}
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus, QSpinBox:focus, QDoubleSpinBox:focus {{
    border: 2px solid {t.selection}; padding: 1px 5px; }}
QLineEdit[wrong="true"] {{ border: 2px solid {t.stop.ink}; padding: 1px 5px; }}
QLineEdit:read-only, QLineEdit:disabled, QComboBox:disabled {{ background: {t.track};
    color: {t.ink_muted}; }}
QComboBox {{ padding-right: 18px; combobox-popup: 0; }}
QComboBox::drop-down {{ border: none; width: 18px; }}
QComboBox::down-arrow {{ width: 0; height: 0; border-left: 4px solid {t.field};
    border-right: 4px solid {t.field}; border-top: 5px solid {t.ink_muted}; margin-right: 5px; }}
QComboBox QAbstractItemView {{ background: {t.panel_raised}; border: 1px solid {t.line_strong};
    selection-background-color: {t.selection_tint}; selection-color: {t.ink}; padding: 2px; }}
QPushButton {{ background: {t.field}; border: 1px solid {t.line_strong};
    border-radius: {SPACE.radius}px; padding: 4px 12px; min-height: 18px; }}
QPushButton:hover {{ background: {t.track}; }}
QPushButton:pressed {{ background: {t.selection_tint}; }}
QPushButton:focus {{ border: 2px solid {t.selection}; padding: 3px 11px; }}
QPushButton:default {{ background: {t.primary}; color: {t.on_primary};
    border-color: {t.primary}; font-weight: 600; }}
QPushButton:default:focus {{ border-color: {t.selection}; }}
QPushButton:disabled {{ color: {t.ghost_ink}; border-color: {t.line}; }}
QPushButton:default:disabled {{ background: {t.track}; }}
QPushButton[flat="true"], QToolButton[link="true"] {{ background: transparent; border: 1px solid
    transparent; color: {t.link}; padding: 2px 1px; text-align: left; }}
QPushButton[flat="true"]:hover, QToolButton[link="true"]:hover {{ text-decoration: underline; }}
QPushButton[flat="true"]:focus, QToolButton[link="true"]:focus {{ padding: 2px 1px;
    border: 1px solid {t.selection}; }}
QToolButton[section="true"] {{ border: none; border-top: 1px solid {t.line}; border-radius: 0;
    padding: 7px 2px; font-weight: 600; text-align: left; }}
QToolButton[section="true"]:hover {{ background: {t.track}; }}
QToolButton[section="true"]:focus {{ border: 1px solid {t.selection}; }}
QCheckBox, QRadioButton {{ spacing: 6px; background: transparent; }}
QCheckBox::indicator {{ width: 14px; height: 14px; border: 1px solid {t.line_strong};
    border-radius: 3px; background: {t.field}; }}
QCheckBox::indicator:checked {{ background: {t.primary}; border: 1px solid {t.primary};
    image: url(icons:tick-{t.name}.svg); }}
QCheckBox::indicator:focus {{ width: 12px; height: 12px; border: 2px solid {t.selection}; }}
QTreeWidget, QListWidget, QTreeView, QListView {{ background: {t.panel}; border: none; }}
QTreeView::item, QListView::item {{ padding: 2px 0; min-height: 20px; border-radius: 4px; }}
QTreeView::item:hover, QListView::item:hover {{ background: {t.track}; }}
QTreeView::item:selected, QListView::item:selected {{ background: {t.selection_tint};
    color: {t.ink}; }}
QTreeView::branch {{ background: {t.panel}; }}
QSplitter::handle {{ background: {t.line}; }}
QSplitter::handle:hover {{ background: {t.selection}; }}
QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 0; }}
QScrollBar::handle {{ background: {t.ghost}; border-radius: 3px; margin: 2px; min-height: 24px;
    min-width: 24px; }}
QScrollBar::handle:hover {{ background: {t.ink_muted}; }}
QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page {{
    background: transparent; width: 0; height: 0; }}
QStatusBar {{ background: {t.primary}; color: {t.on_primary}; border: none; }}
QStatusBar::item {{ border: none; }}
QStatusBar QLabel {{ color: {t.on_primary}; padding: 2px 8px; }}
QToolTip {{ background: {t.panel_raised}; color: {t.ink}; border: 1px solid {t.line_strong};
    padding: 4px 6px; }}
QFrame[card="true"] {{ background: {t.panel_raised}; border: 1px solid {t.line};
    border-radius: {SPACE.radius}px; }}
QFrame[card="true"]:focus {{ border: 2px solid {t.selection}; }}
QFrame[raised="true"] {{ background: {t.panel_raised}; border: 1px solid {t.line_strong};
    border-radius: {SPACE.radius}px; }}
QFrame#panel[afloat="true"] {{ border: 1px solid {t.line_strong}; border-radius: 6px; }}
QFrame[raised="true"] QListView, QFrame[raised="true"] QScrollArea,
QFrame[raised="true"] QWidget#scrolled {{ background: transparent; }}
QLineEdit[large="true"] {{ font-size: {TYPE.title}px; padding: 5px 8px; }}
QLineEdit[large="true"]:focus {{ padding: 4px 7px; }}
QFrame[rule="true"] {{ background: {t.line}; border: none; max-height: 1px; min-height: 1px; }}
QFrame[rule="upright"] {{ background: {t.line}; border: none; min-width: 2px; max-width: 2px; }}
QTabBar::tab {{ padding: 4px 10px; border-bottom: 2px solid transparent; }}
QTabBar::tab:selected {{ border-bottom-color: {t.selection}; font-weight: 600; }}
"""
