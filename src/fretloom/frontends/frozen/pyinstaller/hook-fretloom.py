"""What a frozen application needs of fretloom: modules imported by name, and the files beside them."""

from PyInstaller.utils.hooks import collect_data_files, collect_submodules

#: Rules, formats, commands and the names of the front door are imported when they are asked for.
hiddenimports = collect_submodules("fretloom")
#: The grammar, the tables made from it, the pages of the rules, the schemas.
datas = collect_data_files("fretloom")
