"""`fretloom check`: files and folders, or a text on standard input, reported in one of several forms."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fretloom import api
from fretloom.api import Diagnostic, Severity
from fretloom.collection.caching.opening import opened_store
from fretloom.collection.checking import check_all
from fretloom.collection.choosing.chosen import Chosen, chosen_lessons, watched_files
from fretloom.collection.choosing.selecting import Selection, rules_named
from fretloom.collection.configuration.finding import resolved
from fretloom.collection.configuration.reading import PLACES
from fretloom.collection.reporting import Report
from fretloom.collection.sharing import CHUNK, MANY_FILES, more_than_cores
from fretloom.errors import FretloomError
from fretloom.frontends.command.collection import check_options
from fretloom.frontends.command.terminal import STDOUT, has_colour, put, say

if TYPE_CHECKING:
    from fretloom.collection.caching.store import Store
    from fretloom.collection.choosing.baseline import Baseline

add_options = check_options.add_options
_COULD_NOT = 2


def run(options: argparse.Namespace) -> int:
    """Check all files named and print what was found; returns the exit code."""
    check_options.refuse_contradictions(options)
    if options.watch:
        return _watched(options)
    return _CheckRun(options).checked()


def _watched(options: argparse.Namespace) -> int:
    """Check again whenever a file changes, until the keyboard interrupts it; returns the exit code."""
    from fretloom.collection.choosing.watching import watch

    read: set[str] = set()

    def once() -> None:
        run = _CheckRun(options)
        try:
            run.checked()
        except FretloomError as error:  # It may be mended in the next moment.
            say(error)
        read.update(text.name for one in run.report.lessons for text in one.texts)
        if not options.quiet:
            say("waiting for a change; stop with Ctrl-C")

    watch(once, lambda: watched_files(options.paths, options.root, read))
    return 0


class _CheckRun:
    """One check of all that was named."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.to_file = options.output not in (None, STDOUT)
        colour = options.format == "text" and not self.to_file and has_colour(sys.stdout)
        self.report = Report(options.format, self._counts, colour)
        self.selection = Selection()
        self.pieces: list[str] = []
        self.failed = self.progress_shown = False

    def checked(self) -> int:
        """Check all of it, and return the exit code."""
        options = self.options
        baseline = None
        if options.baseline and not options.write_baseline:
            from fretloom.collection.choosing.baseline import read_baseline

            baseline = read_baseline(Path(options.baseline))
        chosen = chosen_lessons(options.paths, options.root, options.name, options.changed)
        self._refuse_output(chosen)
        for remark in () if options.quiet else chosen.remarks:
            say(remark)
        self._select(chosen)
        if options.fix:
            self._fix(chosen)
        self._check(chosen, baseline)
        if options.write_baseline:
            return self._written()
        self._close()
        if baseline is not None and not options.select and not options.ignore:
            self._tell_mended(baseline)
        return self._code()

    def _select(self, chosen: Chosen) -> None:
        """Choose which findings are reported; each lesson of a JUnit report stands for itself."""
        options = self.options
        select = rules_named(options.select, "--select") if options.select else None
        files = () if options.format == "junit" else (one.name for one in chosen.tasks)
        self.selection = Selection(select, rules_named(options.ignore or (), "--ignore"), files)

    def _fix(self, chosen: Chosen) -> None:
        """Make the sure changes of the findings that are asked for."""
        from fretloom.collection.mending.fixing_all import fix_all

        for one in fix_all(chosen, self.selection, self._opened(chosen), self.options.jobs):
            if one.failure:
                self.failed = True
                say(one.failure)
                continue
            shown = api.shown_name(one.name)
            if one.made:
                made = "1 finding is" if one.made == 1 else f"{one.made} findings are"
                self._remark(f"{made} mended in {shown}")
            if one.refused:
                left = "1 change was" if one.refused == 1 else f"{one.refused} changes were"
                self._remark(f"{left} not made in {shown}: no proof that nothing else changes")

    def _opened(self, chosen: Chosen) -> Store | None:
        return opened_store(chosen.tasks, self.options.cache, self.options.no_cache)

    def _check(self, chosen: Chosen, baseline: Baseline | None) -> None:
        store = self._opened(chosen)
        if too_many := more_than_cores(self.options.jobs):
            self._remark(too_many)
        made = check_all(chosen.tasks, self.options.jobs, self._remark, store)
        settled = chosen.configurations
        for number, (checked, configuration) in enumerate(zip(made, settled, strict=True), 1):
            self._progress(number, len(settled))
            kept = self.selection.of(checked, configuration)
            if baseline is not None:
                kept = baseline.without_known(kept)
            if kept.unreadable:
                self._clear_progress()
                say(kept.unreadable)
            self._show(self.report.add(kept))
        self._clear_progress()
        for name, count in self.selection.following.items():
            uses = "lesson depends" if count == 1 else "lessons depend"
            why = "which has faults: they are only checked whole once it is mended"
            self._remark(f"{count} {uses} on {api.shown_name(name)}, {why}")
        failure = store.save() if store is not None else ""
        if failure and self.options.cache:
            self._remark(f"the results are not kept: {failure}")

    def _show(self, text: str) -> None:
        if text and self.options.write_baseline:
            return
        if self.to_file:
            self.pieces.append(text)
        elif text:
            self._clear_progress()
            print(text, end="")

    def _close(self) -> None:
        """Show what comes at the end, and write the file that was named."""
        options, report = self.options, self.report
        self._show(report.document())
        statistics = report.statistics() if options.statistics else ""
        if statistics and options.format == "text":
            self._show(f"{statistics}\n")
        elif statistics:
            print(statistics, end="", file=sys.stderr)
        if options.format == "text" and not options.quiet:
            self._show(report.summary())
        if self.to_file:
            if options.quiet:
                api.write(options.output, "".join(self.pieces))
            else:
                put("".join(self.pieces), options.output)

    def _written(self) -> int:
        """Write the baseline."""
        if self.report.unreadable:
            say("the baseline is not written, because not all files could be read")
            return _COULD_NOT
        from fretloom.collection.choosing.baseline import write_baseline

        said = write_baseline(Path(self.options.baseline), self.report.findings)
        if not self.options.quiet:
            print(said, file=sys.stderr)
        return 0

    def _tell_mended(self, baseline: Baseline) -> None:
        read = [one.name for one in self.report.lessons if not one.unreadable]
        mended = baseline.mended(read)
        if mended and not self.options.quiet:
            what = "finding of the baseline is" if mended == 1 else "findings of the baseline are"
            self._remark(f"{mended} {what} mended: write it anew with --write-baseline")

    def _code(self) -> int:
        if self.report.unreadable or self.failed:
            return _COULD_NOT
        warnings, most = self.report.number(Severity.WARNING), self.options.max_warnings
        too_many = most is not None and warnings > most
        if too_many:
            say(f"there are {warnings} warnings, and --max-warnings allows {most}")
        return 1 if too_many or any(map(self._counts, self.report.findings)) else 0

    def _counts(self, found: Diagnostic) -> bool:
        """Whether a finding makes the check fail by itself."""
        if found.severity is Severity.ERROR:
            return True
        return bool(self.options.strict) and found.severity is Severity.WARNING

    def _refuse_output(self, chosen: Chosen) -> None:
        """Refuse to write the report over something else that is needed, or a baseline over what is none."""
        options = self.options
        if options.write_baseline:
            from fretloom.collection.choosing.baseline import refuse_another

            refuse_another(Path(options.baseline))
        if not self.to_file:
            return
        output, what = Path(options.output), ""
        if output.suffix == ".lesson" or str(output) in {one.name for one in chosen.tasks}:
            what = "a lesson"
        elif output.name in PLACES:
            what = "a configuration"
        elif options.baseline and resolved(output) == resolved(Path(options.baseline)):
            what = "the baseline"
        if what:
            shown = f"{api.shown_name(output)} is {what}, and no report is written over it"
            raise FretloomError(f"{shown}: name another file with -o")

    def _progress(self, number: int, total: int) -> None:
        """Show the progress of a long check, on a terminal only, and one that can take it back."""
        plain = self.options.quiet or os.environ.get("TERM") == "dumb" or not sys.stderr.isatty()
        if total >= MANY_FILES and number % CHUNK == 0 and not plain:
            self.progress_shown = True
            print(f"\rchecked {number} of {total} files", end="", file=sys.stderr, flush=True)

    def _clear_progress(self) -> None:
        if self.progress_shown:
            self.progress_shown = False
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)

    def _remark(self, text: str) -> None:
        self._clear_progress()
        if not self.options.quiet:
            say(text)
