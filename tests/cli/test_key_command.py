"""`reedmace key`: with piped input and at a terminal, to the verdict and into the ledger; Ctrl-C loses nothing."""

from __future__ import annotations

import re

import pytest

from cli.seat import CTRL_C, CTRL_D
from tarn import FOLDER

SETTLING = ["wings closed", "colour blue", "bar present", "collar straight", "bump present", "back-mark cup"]
AT = ("--date", "1 July 2025", "--place", "SU 43 11")
KEY = ("key", "--key", FOLDER, *AT)


def typed(*lines: str) -> str:
    """Lines for a pipe."""
    return "\n".join(lines) + "\n"


def test_piped_lines_are_a_whole_conversation(tarn_run) -> None:
    """Each line is shown after its prompt, as if typed, and the verdict stands at the end."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "why great", "done"))
    assert ran.returncode == 0, ran.stderr
    assert "> wings closed\n· Wings at rest: closed along the back\n" in ran.stdout
    assert "Why Pale Rushlet and not Great Boulderer" in ran.stdout
    assert "Settled: Pale Rushlet (Tarnula pallida), male" in ran.stdout.rpartition("> done")[2]


def test_the_end_of_the_input_is_done(tarn_run) -> None:
    """A file of answers needs no last word."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING))
    assert ran.returncode == 0
    assert "Settled: Pale Rushlet" in ran.stdout
    empty = tarn_run("key", *AT, stdin="")
    assert empty.returncode == 0
    assert "Open: no name would be honest yet." in empty.stdout


def test_input_that_ends_in_the_middle_of_a_question_is_told(tarn_run) -> None:
    """The verdict on what was answered stands, but the exit code says that the input was not whole."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "length"))
    assert ran.returncode == 130
    assert "Settled: Pale Rushlet" in ran.stdout
    assert "The input ended in the middle of a question" in " ".join(ran.stderr.split())
    assert max(map(len, tarn_run("key", *AT, stdin=typed("length"), env={"COLUMNS": "60"}).stderr.splitlines())) <= 60
    assert "Log this sighting?" not in ran.stdout
    assert tarn_run("key", *AT, stdin=typed(*SETTLING, "length", "back")).returncode == 0


def test_quit_leaves_without_a_verdict_or_an_offer(tarn_run) -> None:
    """Nothing after the word."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "q", "y"))
    assert ran.stdout.rpartition("> q\n")[2] == ""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "quit", "y"))
    assert ran.returncode == 0
    assert ran.stdout.rpartition("> quit\n")[2] == ""


def test_the_question_put_stands_in_the_prompt(tarn_run) -> None:
    """So that a number is an answer to something."""
    ran = tarn_run("key", *AT, stdin=typed("bar", "2", "done"))
    assert "> bar\nIs there a dark bar along the side?\n" in ran.stdout
    assert "side-bar> 2\n· Bar on the side: a dark bar\n" in ran.stdout


def test_a_settled_insect_is_logged_with_its_reasons(tarn_run, owned, listed) -> None:
    """Date and place are those of the conversation; how many is asked; the answers and the ranking go with it."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", "y", "", "", "", "Sallow Farm tarn", "2m 1f"))
    assert ran.returncode == 0, ran.stderr
    assert "Logged for Ada Marsh" in " ".join(ran.stdout.split())
    kept = listed()
    assert [(one["sex"], one["count"]) for one in kept] == [("male", 2), ("female", 1)]
    assert {(one["date"], one["place"], one["locality"]) for one in kept} == {
        ("2025-07-01", "SU4311", "Sallow Farm tarn")
    }
    naming = kept[0]["record"]["naming"]
    assert naming["verdict"] == "settled"
    assert [character for character, _ in naming["answers"]] == [
        "wings-at-rest",
        "body-colour",
        "side-bar",
        "collar",
        "bump",
        "back-mark",
    ]
    assert naming["ranking"][0][:2] == ["Tarnula pallida", "male"]


def test_a_pair_is_logged_as_the_pair(tarn_run, owned, listed) -> None:
    """Narrowed to two: the genus, with both names kept."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING[:3], "bump present", "back-mark cup", "done", "y", *[""] * 5))
    assert ran.returncode == 0, ran.stderr
    assert "write it down as: Pale or Misty Rushlet." in ran.stdout
    assert "Log it as [Pale or Misty Rushlet]: " in ran.stdout
    (kept,) = listed()
    assert (kept["name"], kept["rank"]) == ("Tarnula", "genus")
    assert set(kept["one_of"]) == {"Tarnula pallida", "Tarnula nebula"}
    assert (kept["count"], kept["sex"]) == (1, "male")


@pytest.mark.parametrize(
    ("names", "name", "faults"),
    [
        (["misty"], "Tarnula nebula", []),
        (["sunny"], "Tarnula aprica", []),
        (["rushlet sp."], "Tarnula", []),
        (["nonsense", "2 misty", "misty f", "misty?"], "Tarnula nebula", ["unknown-name", *["more-than-a-name"] * 2]),
    ],
)
def test_whoever_logs_it_names_it(tarn_run, owned, listed, names: list[str], name: str, faults: list[str]) -> None:
    """Any name of the key, one the verdict left out too; a fault asks again; the ranking stays beside it."""
    lines = typed(*SETTLING[:3], "bump present", "back-mark cup", "done", "y", *names, "", "", "", "2 m")
    ran = tarn_run("key", *AT, stdin=lines)
    assert ran.returncode == 0, ran.stderr
    assert [word for word in ran.stdout.split() if word in ("unknown-name", "more-than-a-name")] == faults
    (kept,) = listed()
    assert (kept["name"], kept["count"], kept["sex"]) == (name, 2, "male")
    assert kept["typed"] == f"2 m {names[-1]}"
    naming = kept["record"]["naming"]
    assert naming["verdict_name"] == "Tarnula pallida or Tarnula nebula"
    assert naming["ranking"][0][0] == "Tarnula pallida"


def test_the_name_advised_is_the_name_offered(run, owned, listed) -> None:
    """A verdict wider than its first look-alike says so in both places, and one of the verdict's may be meant."""
    answers = ("wings=closed", "abdomen=blue", "spur=present", "done", "y", "azure", "", "", "", "")
    ran = run("key", "--date", "2026-07-12", "--place", "SU 431 118", stdin=typed(*answers))
    assert ran.returncode == 0, ran.stderr
    (advised,) = re.findall(r"write it down as: (.+)\.", ran.stdout)
    (offered,) = re.findall(r"Log it as \[(.+)\]: ", ran.stdout)
    assert advised == offered == "damselfly"
    assert listed()[0]["name"] == "Coenagrion puella"


@pytest.mark.parametrize("answer", ["n", "", "not now", "nonsense", "quit"])
def test_nothing_is_logged_unless_it_is_wanted(tarn_run, owned, listed, answer: str) -> None:
    """A pipe's empty line may be no more than the end of a file; that nothing was logged is said, and how to do it."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", answer))
    assert ran.returncode == 0
    told = " ".join(ran.stdout.rpartition("Log this sighting?")[2].split())
    assert "Not logged." in told
    assert "reedmace log '1 m Pale Rushlet' --date 2025-07-01 --place 'SU 43 11'" in told
    assert listed() == []


def test_what_is_no_yes_and_no_no_is_asked_again(tarn_run, owned, listed) -> None:
    """Nothing is dropped on a guess; a yes may be said as people say it."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", "1", "azure", "yes, log it", *[""] * 5))
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.count("This is neither a yes nor a no.") == 2
    assert len(listed()) == 1


def test_words_of_command_are_never_logged(tarn_run, owned, listed) -> None:
    """`quit` leaves at every prompt, says that nothing was logged, and gives what was answered as a line to type."""
    asked = ["misty", "2 July 2025", "SU 431 118", "Heron Pools", "3 m"]
    for answered in range(len(asked)):
        ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", "y", *asked[:answered], "quit"))
        assert ran.returncode == 0, ran.stderr
        assert "Not logged." in ran.stdout
    told = " ".join(ran.stdout.split())
    assert "'1 m misty' --date 2025-07-02 --place 'SU 431 118' --locality 'Heron Pools'" in told
    assert listed() == []


def test_back_goes_to_the_question_before(tarn_run, owned, listed) -> None:
    """From the number to the first, to the offer, and to the conversation itself; what was answered is offered."""
    steps = (
        "y",
        "",
        "2 July 2025",
        "SU 431 118",
        "Sallow",
        "back",
        "",
        "undo",
        "go back",
        "",
        "Heron Pools",
        "4 m",
    )
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", "back", "length 30", "done", "y", "back", *steps))
    assert ran.returncode == 0, ran.stderr
    assert "Name of the place, village first [Sallow]: " in ran.stdout
    assert ran.stdout.count("Place, as grid reference or latitude, longitude [SU 431 118]: ") == 1  # once asked again
    (kept,) = listed()
    assert (kept["locality"], kept["date"], kept["place"], kept["count"]) == (
        "Heron Pools",
        "2025-07-02",
        "SU431118",
        4,
    )
    assert ["length", "30mm"] in kept["record"]["naming"]["answers"]


def test_a_place_called_like_a_command_is_asked_for_in_quotes(tarn_run, owned, listed) -> None:
    """Without them it is hardly meant."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", "y", "", "", "", "done", "?", '"Done"', ""))
    assert ran.returncode == 0, ran.stderr
    assert "word-of-command" in ran.stdout
    assert "quit leaves and writes nothing" in " ".join(ran.stdout.split())
    assert listed()[0]["locality"] == "Done"


def test_an_open_verdict_is_not_offered_to_be_logged(tarn_run) -> None:
    """There is no name to log."""
    assert "Log this sighting?" not in tarn_run("key", *AT, stdin=typed("colour green", "done")).stdout


def test_slips_while_logging_are_asked_again(tarn_run, owned, listed) -> None:
    """A date to come, a place that is none, a count of nought: each told, none written."""
    ran = tarn_run(
        "key",
        "--date",
        "1 July 2025",
        stdin=typed(
            *SETTLING, "done", "y", "", "1 July 2999", "31 June 2025", "", "", "SU 43 1", "SU 431 118", "", "0", "3 cop"
        ),
    )
    assert ran.returncode == 0, ran.stderr
    for code in ("date-in-future", "impossible-date", "zero-count"):
        assert code in ran.stdout
    assert "This is needed for a record." in ran.stdout
    (kept,) = listed()
    assert (kept["place"], kept["pairs"], kept["count"]) == ("SU431118", 3, 6)


def test_the_input_ends_while_logging_and_nothing_is_written(tarn_run, owned, listed) -> None:
    """Half a record is none."""
    ran = tarn_run("key", *AT, stdin=typed(*SETTLING, "done", "y", "", ""))
    assert ran.returncode == 130
    assert "Nothing that was logged is lost" in ran.stderr
    assert listed() == []


def test_at_a_terminal_a_question_is_answered_and_logged(seat, owned, listed) -> None:
    """The same conversation by hand."""
    with seat(*KEY) as there:
        there.wait_for("\n> ")
        for line in SETTLING:
            there.type(line)
            there.wait_for("\n> ")
        there.type("done")
        there.wait_for("Log this sighting? [Y/n] ")
        there.type("")
        there.wait_for("Log it as [Pale Rushlet]: ")
        there.type("")
        there.wait_for("Date [2025-07-01]: ")
        there.type("")
        there.wait_for("[SU 43 11]: ")
        there.type("SU 431 118")
        there.wait_for("[none]: ")
        there.type("Sallow Farm tarn")
        there.wait_for("[1 m]: ")
        there.type("")
        there.wait_for("Write this? [Y/n]: ")
        there.type("back")
        there.wait_for("[1 m]: ")
        there.type("")
        there.wait_for("Write this? [Y/n]: ")
        there.type("ok")
        there.wait_for("Logged")
        assert there.leave() == 0
    (kept,) = listed()
    assert (kept["place"], kept["sex"], kept["count"]) == ("SU431118", "male", 1)


def test_who_you_are_is_asked_once_at_a_terminal(seat, run, listed, tarn) -> None:
    """Where nobody has said so yet."""
    with seat("log", "12 pale m", "--place", "SU 431 118", "--date", "2025-07-12", "--key", FOLDER) as there:
        there.wait_for("Your name, as it should stand in the records: ")
        there.type("Ada Marsh")
        there.wait_for("Logged for Ada Marsh")
        assert there.leave() == 0
    assert run("people").stdout == "Ada Marsh  (you)\n"
    assert listed()[0]["observers"] == ["Ada Marsh"]


@pytest.mark.parametrize("after", [[], ["wings closed"], ["wings closed", "bar"], [*SETTLING, "done"]])
def test_ctrl_c_ends_it_and_loses_nothing_logged(seat, log, listed, after: list[str]) -> None:
    """At the first prompt, in the middle, at a question, and at the offer to log."""
    log("12 pale m")
    with seat(*KEY) as there:
        there.wait_for("\n> ")
        for line in after:
            there.type(line)
            there.wait_for("[Y/n] " if line == "done" else "> ")
        there.interrupt()
        assert there.leave() == 130
    assert "Nothing that was logged is lost." in there.text
    assert "Traceback" not in there.text
    assert [one["typed"] for one in listed()] == ["12 pale m"]


def test_ctrl_c_in_the_middle_of_logging_writes_nothing(seat, owned, listed) -> None:
    """Until it says "Logged" there is no record."""
    with seat(*KEY) as there:
        there.wait_for("\n> ")
        for line in (*SETTLING, "done", "y", ""):
            there.type(line)
            there.wait_for(": " if line in ("y", "") else "[Y/n] " if line == "done" else "> ")
        there.interrupt()
        assert there.leave() == 130
    assert listed() == []


def test_ctrl_d_is_the_end_of_the_input(seat, tarn) -> None:
    """As with a pipe: the verdict, and goodbye."""
    with seat(*KEY) as there:
        there.wait_for("\n> ")
        there.keys(CTRL_D)
        assert there.leave() == 0
    assert "Open: no name would be honest yet." in there.text


def test_a_walk_logged_by_prompts(seat, owned, listed) -> None:
    """`reedmace log` without a line asks: when, where, and line after line."""
    with seat("log", "--key", FOLDER) as there:
        there.wait_for("Date [today]: ")
        there.type("31 June 2025")
        there.wait_for("Date [today]: ")
        there.type("12 July 2025")
        there.wait_for("longitude: ")
        there.type("SU 431 118")
        there.wait_for("[none]: ")
        there.type("")
        there.wait_for("Times and weather")
        there.type("10:30-12:00 21C sun170")
        there.wait_for("[none]: ")
        there.type("10:30-12:00 21C sun70 F2")
        there.wait_for("very species noted")
        there.type("dams")
        there.wait_for("seen: ")
        there.type("12 pale m")
        there.wait_for("seen: ")
        there.type("0 misty")
        there.wait_for("seen: ")
        there.type("3 cop misty")
        there.wait_for("seen: ")
        there.type("")
        there.wait_for("Write this? [Y/n]: ")
        there.type("")
        assert there.leave() == 0
    assert "zero-count" in there.text
    assert "sun-over-100" in there.text
    kept = listed()
    assert sorted(one["typed"] for one in kept) == ["12 pale m", "3 cop misty"]
    visit = kept[0]["visit"]
    assert (visit["start"], visit["end"], visit["temperature_c"], visit["sun_percent"]) == ("10:30", "12:00", 21, 70)
    assert visit["all_damselflies"]
    assert "all_dragonflies" not in visit


def test_a_walk_logged_by_prompts_without_knowing_the_shorthand(seat, owned, listed) -> None:
    """A bare name is enough; how many and what else is asked, and an ambiguous name is asked about by number."""
    with seat("log", "--key", FOLDER, *AT, "--locality", "Sallow Farm") as there:
        there.wait_for("Times and weather")
        there.type("")
        there.wait_for("very species noted")
        there.type("")
        there.wait_for("seen: ")
        there.type("Great Boulderer")
        there.wait_for("how many")
        there.type("2m 1f")
        there.wait_for("what else")
        there.type("ovip")
        there.wait_for("seen: ")
        there.type("tarn")
        there.wait_for("which one")
        there.type("2")
        there.wait_for("how many")
        there.type("")
        there.wait_for("what else")
        there.type("")
        there.wait_for("seen: ")
        there.type("")
        there.wait_for("Write this? [Y/n]: ")
        there.type("")
        assert there.leave() == 0
    kept = {(one["vernacular"], one["sex"]): one for one in listed()}
    assert kept["Great Boulderer", "male"]["count"] == 2
    assert kept["Great Boulderer", "female"]["behaviour"] == ["ovipositing"]
    assert len(kept) == 3


def test_an_ambiguous_line_given_at_a_terminal_is_asked_about(seat, owned, listed) -> None:
    """Which species, by its number; the line stays as it was typed."""
    with seat("log", "12 tarn m", "2 great", "--key", FOLDER, *AT) as there:
        there.wait_for("which one")
        there.type("1")
        assert there.leave() == 0
    assert sorted(one["typed"] for one in listed()) == ["12 tarn m", "2 great"]


def test_a_walk_by_prompts_that_is_not_confirmed_is_not_written(seat, owned, listed) -> None:
    """Neither by a no nor by Ctrl-C."""
    for end in ("n\n", CTRL_C):
        with seat("log", "--key", FOLDER, *AT, "--locality", "Sallow Farm") as there:
            there.wait_for("[none]: ")
            there.type("")
            there.wait_for("[no]: ")
            there.type("")
            there.wait_for("seen: ")
            there.type("12 pale m")
            there.wait_for("seen: ")
            there.type("")
            there.wait_for("[Y/n]: ")
            there.interrupt() if end == CTRL_C else there.keys(end)
            assert there.leave() == 130
    assert listed() == []


def test_words_of_command_work_at_every_prompt_of_log(seat, owned, listed) -> None:
    """`back` asks the question before, also from the number of an insect and from the last question of all."""
    with seat("log", "--key", FOLDER) as there:
        for prompt, line in (
            ("Date [today]: ", "back"),
            ("first question", "12 July 2025"),
            ("longitude: ", "SU 431 118"),
            ("[none]: ", "quit the pond"),
            ("Times and weather", "back"),
            ("first [quit the pond]: ", "done"),
            ("word-of-command", "Sallow Farm"),
            ("Times and weather", ""),
            ("very species noted", ""),
            ("seen: ", "back"),
            ("very species noted", "dams"),
            ("seen: ", "Great Boulderer"),
            ("how many", "2m"),
            ("what else", "back"),
            ("how many", "3m"),
            ("what else", ""),
            ("seen: ", "Misty Rushlet"),
            ("how many", "back"),
            ("taken back: Misty Rushlet", "5 pale m"),
            ("seen: ", "done"),
            ("Write this? [Y/n]: ", "perhaps"),
            ("neither a yes nor a no", "back"),
            ("seen: ", ""),
            ("Write this? [Y/n]: ", "yep"),
        ):
            there.wait_for(prompt)
            there.type(line)
        assert there.leave() == 0
    kept = listed()
    assert sorted(one["typed"] for one in kept) == ["5 pale m", "Great Boulderer 3m"]
    assert (kept[0]["date"], kept[0]["locality"]) == ("2025-07-12", "Sallow Farm")
    assert kept[0]["visit"]["all_damselflies"]


def test_quit_leaves_the_prompts_of_log_and_gives_back_what_was_typed(seat, owned, listed) -> None:
    """At the name of the place, where it would be taken for one."""
    with seat("log", "--key", FOLDER) as there:
        for prompt, line in (("Date [today]: ", "12 July 2025"), ("longitude: ", "SU 431 118"), ("[none]: ", "quit")):
            there.wait_for(prompt)
            there.type(line)
        assert there.leave() == 130
    assert "Stopped: nothing was written. What you typed, for the next time or for a file:" in there.text
    assert listed() == []
