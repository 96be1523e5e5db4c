# Prints a page in WebKitGTK to a file, as its own dialog would with "print to file". Its WebDriver cannot print.
# python3 print_webkit.py ADDRESS SCRIPT FILE WIDTH HEIGHT MARGIN: in mm. SCRIPT is run until it says true; then it is printed.
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2

address, script, file = sys.argv[1:4]
width, height, margin = map(float, sys.argv[4:7])
view = WebKit2.WebView.new_with_context(WebKit2.WebContext.new_ephemeral())
window = Gtk.Window()
window.set_default_size(1440, 1000)
window.add(view)
window.show_all()


def ask():
    view.evaluate_javascript(script, -1, None, None, None, answered)
    return False


def answered(_, result):
    try:
        ready = view.evaluate_javascript_finish(result).to_boolean()
    except GLib.Error:  # the page is still loading
        ready = False
    GLib.timeout_add(300, show if ready else ask)


def show():
    page = Gtk.PageSetup()
    page.set_paper_size(Gtk.PaperSize.new_custom("paper", "paper", min(width, height), max(width, height), Gtk.Unit.MM))
    page.set_orientation(Gtk.PageOrientation.LANDSCAPE if width > height else Gtk.PageOrientation.PORTRAIT)
    for side in (page.set_top_margin, page.set_bottom_margin, page.set_left_margin, page.set_right_margin):
        side(margin, Gtk.Unit.MM)
    to = Gtk.PrintSettings()
    to.set_printer("Print to File")
    to.set(Gtk.PRINT_SETTINGS_OUTPUT_URI, "file://" + file)
    to.set(Gtk.PRINT_SETTINGS_OUTPUT_FILE_FORMAT, "pdf")
    printing = WebKit2.PrintOperation.new(view)
    printing.set_page_setup(page)
    printing.set_print_settings(to)
    printing.connect("finished", lambda *_: Gtk.main_quit())
    printing.connect("failed", lambda _, why: (print(why.message, file=sys.stderr), Gtk.main_quit()))
    printing.print_()
    return False


view.load_uri(address)
GLib.timeout_add(300, ask)
Gtk.main()
