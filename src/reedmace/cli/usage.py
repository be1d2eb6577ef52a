"""Wrong usage in the words of people by a pond: what click says of it, as a fault with an example to type."""

from __future__ import annotations

import re
from collections.abc import Sequence

import click

from reedmace.faults import Fault, did_you_mean

_EXAMPLE = re.compile(r"^ +(reedmace .+)$", re.MULTILINE)
# What click says of numbers, and what we say.
_NUMBERS = (
    (re.compile(r"is not a valid integer( range)?"), "is no whole number"),
    (re.compile(r"is not a valid float( range)?"), "is no number"),
    (re.compile(r"is not in the range (\S+)<=x<=(\S+?)\.$"), r"is not between \1 and \2."),
    (re.compile(r"is not in the range x>=(\S+?)\.$"), r"is too small: \1 or more."),
)


def usage_fault(error: click.ClickException, context: click.Context | None) -> Fault:
    """The fault that stands for `error`; its hint ends with where more is told.

    `context` is that of the command that was called, where the error does not say it.
    """
    context = (error.ctx if isinstance(error, click.UsageError) else None) or context
    command = context.command_path if context is not None else "reedmace"
    example = f"for example:  {line}" if (line := example_of(context)) else ""
    if isinstance(error, click.NoSuchOption):
        known = _options(context)
        hint = did_you_mean(error.option_name, known, f"options: {', '.join(known)}")
        message = f"There is no such option in  {command} ."
        if error.option_name in ("--yes", "-y"):
            hint = "it asks at a terminal only, where Enter says yes; elsewhere nothing is asked"
        return Fault("unknown-option", message, with_more(hint, command), error.option_name, typed=True)
    if isinstance(error, click.MissingParameter) and error.param is not None:
        hint = with_more(example or _pattern(context), command)
        return Fault("word-missing", _missing(error.param), hint, typed=True)
    hint = with_more(example, command)
    if isinstance(error, click.BadParameter) and error.param is not None:
        message = f"{_called(error.param)}: {_in_words(error.message)}"
        return Fault("value-not-taken", message, with_more("", command), typed=True)
    if isinstance(error, click.exceptions.BadOptionUsage):
        return Fault("option-misused", _misused(error, context), hint, typed=True)
    if error.message.startswith("Got unexpected extra argument"):
        message = "There are more words than this takes: " + error.message.partition("(")[2].rstrip(").") + "."
        hint = with_more("put a name of several words in quotes", command)
        return Fault("too-many-words", message, hint, typed=True)
    return Fault("wrong-usage", error.format_message(), hint, typed=True)


def with_more(hint: str, command: str) -> str:
    """A hint with where the whole of a command is told."""
    more = f"ore:  {command} --help"
    if not hint:
        return f"m{more}"
    return f"{hint} M{more}" if hint.endswith("?") else f"{hint}  ; m{more}"


def context_of(arguments: Sequence[str], command: click.Command) -> click.Context:
    """The context of the command that `arguments` call, as far as their words are commands."""
    context = click.Context(command, info_name="reedmace")
    for word in arguments:
        below = context.command.get_command(context, word) if isinstance(context.command, click.Group) else None
        if below is None:
            break
        context = click.Context(below, info_name=word, parent=context)
    return context


def example_of(context: click.Context | None) -> str:
    """The first example of the command's help."""
    found = _EXAMPLE.search((context.command.help or "") if context is not None else "")
    return found[1] if found else ""


def _pattern(context: click.Context | None) -> str:
    """How the command is written, as its help says it."""
    if context is None:
        return "reedmace COMMAND"
    words = [word for word in context.command.collect_usage_pieces(context) if word != "[OPTIONS]"]
    return f"write  {' '.join([context.command_path, *words])}"


def _options(context: click.Context | None) -> list[str]:
    """The long options of a command, in the order of its help."""
    if context is None:
        return []
    found = [one for one in context.command.get_params(context) if isinstance(one, click.Option)]
    return [next(name for name in one.opts if name.startswith("--")) for one in found]


def _called(parameter: click.Parameter) -> str:
    """What a parameter is called on the screen."""
    if isinstance(parameter, click.Option):
        return parameter.opts[0]
    return parameter.metavar or (parameter.name or "").upper()


def _missing(parameter: click.Parameter) -> str:
    if isinstance(parameter, click.Option):
        metavar = parameter.metavar or parameter.type.name.upper()
        words = parameter.help or ""
        return f"{parameter.opts[0]} {metavar} is needed: {words[:1].lower()}{words[1:]}"
    return f"{_called(parameter).split()[0].rstrip('.')} is missing."


def _misused(error: click.exceptions.BadOptionUsage, context: click.Context | None) -> str:
    """An option without what belongs behind it, or with something that does not."""
    if context is not None:
        for one in context.command.get_params(context):
            if isinstance(one, click.Option) and error.option_name in one.opts:
                if one.is_flag:
                    return f"Nothing belongs behind {error.option_name}."
                return f"Something is missing behind {error.option_name}: {one.metavar or one.type.name.upper()}."
    return error.message


def _in_words(message: str) -> str:
    for pattern, words in _NUMBERS:
        message = pattern.sub(words, message)
    return message
