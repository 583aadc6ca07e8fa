#!/usr/bin/env python3
"""Plants faults in a copy of the sources and shows which of them the tests catch. See README.md.

One build holds every fault; the environment variable CANEWISE_MUTANT switches one of them on when a test starts.
"""

import argparse
import concurrent.futures
import json
import os
import pathlib
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
ENOUGH = 0.9
NEAR_LINES = 60
KEYS = {"id", "file", "near", "original", "mutated", "kind", "says", "tests", "why"}
OPTIONAL = {"near", "why"}


class Trouble(Exception):
    """Something that the tool cannot work with: said to the user, exit code 2."""


# --- The list of faults -----------------------------------------------------------------------------------------------


def number_of(slug):
    """A fault's number comes from its id alone: a fault more leaves the others' source text, and their build, alone."""
    number = 0x811C9DC5
    for byte in slug.encode():
        number = ((number ^ byte) * 0x01000193) & 0xFFFFFFFF
    return number & 0x7FFFFFFF


def read_faults():
    faults = []
    for path in sorted((HERE / "faults").glob("*.json")):
        try:
            module = json.loads(path.read_text(encoding="utf-8"))
        except ValueError as error:
            raise Trouble(f"{path.relative_to(ROOT)}: {error}") from error
        if set(module) - {"tests", "faults"}:
            raise Trouble(f"{path.relative_to(ROOT)}: holds 'faults' and, at will, 'tests', nothing else")
        for fault in module["faults"]:
            name = fault.get("id", "?")
            unknown, missing = set(fault) - KEYS, KEYS - OPTIONAL - set(fault)
            if unknown or missing:
                raise Trouble(f"{path.relative_to(ROOT)}: fault '{name}': unknown keys {sorted(unknown)}, "
                              f"missing keys {sorted(missing)}")
            if fault["kind"] not in ("expression", "statement"):
                raise Trouble(f"fault '{name}': kind is 'expression' or 'statement', not '{fault['kind']}'")
            if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name):
                raise Trouble(f"fault '{name}': an id has small letters, digits and single hyphens")
            if fault["kind"] == "expression" and not fault["mutated"].strip():
                raise Trouble(f"fault '{name}': an expression cannot become nothing")
            fault["module"] = path.stem
            fault["number"] = number_of(name)
            fault["tests"] = fault["tests"] + module.get("tests", [])
            faults.append(fault)
    by_id, by_number = {}, {}
    for fault in faults:
        if fault["id"] in by_id:
            raise Trouble(f"two faults have the id '{fault['id']}'")
        if fault["number"] == 0 or fault["number"] in by_number:
            raise Trouble(f"fault '{fault['id']}': its number is taken, choose another id")
        by_id[fault["id"]] = by_number[fault["number"]] = fault
    if not faults:
        raise Trouble("no faults in tests/mutants/faults")
    return faults


# --- Where a fault stands ---------------------------------------------------------------------------------------------

TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|\'(?:[^\'\\]|\\.)*\'|[A-Za-z0-9_]+|\S')


def pattern_of(text):
    """Finds the text however its lines are broken: blanks matter between two words only. What begins with a word does
    not stand behind '.', '->' or '::', for that would be half an expression."""
    tokens = TOKEN.findall(text)
    if not tokens:
        raise ValueError("empty text")
    word = re.compile(r"[A-Za-z0-9_]+")
    pattern = r"(?<![\w.:>])" if word.match(tokens[0]) else ""
    for k, token in enumerate(tokens):
        if k > 0:
            pattern += r"\s+" if word.match(tokens[k - 1]) and word.match(token) else r"\s*"
        pattern += re.escape(token)
    return re.compile(pattern + (r"(?!\w)" if word.match(tokens[-1]) else ""))


class Sources:
    """The project's files, read once."""

    def __init__(self, root):
        self.root = root
        self.texts = {}
        self.folders = {}

    def text(self, path):
        if path not in self.texts:
            self.texts[path] = (self.root / path).read_text(encoding="utf-8")
        return self.texts[path]

    def files(self, where):
        """A file, or all sources below a folder: a fault given by its folder survives a move between files."""
        full = self.root / where
        if full.is_file():
            return [where]
        if where not in self.folders:
            found = [p.relative_to(self.root).as_posix() for p in full.rglob("*") if p.suffix in (".cpp", ".h")]
            self.folders[where] = sorted(found)
        return self.folders[where]


def line_of(text, at):
    return text.count("\n", 0, at) + 1


def locate(fault, sources):
    """Fills in at, end, line and path, or says why the fault does not fit."""
    files = sources.files(fault["file"])
    if not files:
        return f"there is no {fault['file']}"
    original = pattern_of(fault["original"])
    found = []
    if "near" in fault:
        anchors = [(f, m) for f in files for m in pattern_of(fault["near"]).finditer(sources.text(f))]
        if len(anchors) != 1:
            return f"its 'near' text occurs {len(anchors)} times in {fault['file']}, not once"
        path, anchor = anchors[0]
        match = original.search(sources.text(path), anchor.end())
        if match and sources.text(path).count("\n", anchor.end(), match.start()) <= NEAR_LINES:
            found.append((path, match))
    else:
        found = [(f, m) for f in files for m in original.finditer(sources.text(f))]
    if len(found) != 1:
        where = fault["file"] + (" behind its 'near' text" if "near" in fault else "")
        return f"its original text occurs {len(found)} times in {where}, not once"
    path, match = found[0]
    fault.update(path=path, at=match.start(), end=match.end(), line=line_of(sources.text(path), match.start()))
    return None


def locate_all(faults, sources):
    wrong = []
    for fault in faults:
        reason = locate(fault, sources)
        if reason:
            wrong.append(f"fault '{fault['id']}' no longer fits: {reason}")
    placed = sorted((f for f in faults if "at" in f), key=lambda f: (f["path"], f["at"]))
    for a, b in zip(placed, placed[1:]):
        if a["path"] == b["path"] and b["at"] < a["end"]:
            wrong.append(f"faults '{a['id']}' and '{b['id']}' overlap in {a['path']}:{b['line']}")
    return wrong


def planted(path, text, faults):
    """The file's text with all its faults, each behind its switch."""
    for fault in sorted((f for f in faults if f["path"] == path), key=lambda f: -f["at"]):
        original, mutated = text[fault["at"]:fault["end"]], fault["mutated"]
        on = f"::canewise::mutants::on({fault['number']}UL)"
        if fault["kind"] == "expression":
            choice = f"({on} ? ({mutated}) : ({original}))"
        else:
            # The outer braces keep an 'else' behind the statement with its own 'if'.
            choice = f"{{ if ({on}) {{ {mutated} }} else {{ {original} }} }}"
        text = text[:fault["at"]] + choice + text[fault["end"]:]
    return (HERE / "switch.h").read_text(encoding="utf-8") + "#line 1\n" + text


# --- The names of tests that CMakeLists.txt files declare -------------------------------------------------------------


def declared_tests():
    """Names in tests/**/CMakeLists.txt: enough for --check, which must not need a build."""
    names = set()
    for path in (ROOT / "tests").rglob("CMakeLists.txt"):
        text = re.sub(r"#.*", "", path.read_text(encoding="utf-8"))
        names.update(m[1] + "/headers" for m in re.finditer(r"\bcanewise_specifications\(\s*(\w+)", text))
        lists = {m[1]: m[2].split() for m in re.finditer(r"foreach\(\s*(\w+)\s+([^)]*)\)", text)}
        for match in re.finditer(r"\b(?:canewise_\w*tests?|add_test)\(\s*(?:NAME\s+)?([\w./${}-]+)", text):
            name = match[1]
            variable = re.search(r"\$\{(\w+)\}", name)
            if variable is None:
                names.add(name)
            else:
                names.update(name.replace(variable[0], value) for value in lists.get(variable[1], []))
    return names


def tests_of(fault, names):
    return {n for n in names for regex in fault["tests"] if re.fullmatch(regex, n)}


def without_tests(faults, names):
    return [f"fault '{f['id']}': none of its tests exists: {f['tests']}" for f in faults if not tests_of(f, names)]


def check():
    faults = read_faults()
    wrong = locate_all(faults, Sources(ROOT)) + without_tests(faults, declared_tests())
    if wrong:
        raise Trouble("\n".join(wrong))
    print(f"{len(faults)} faults fit the sources.")


# --- The copy and its build -------------------------------------------------------------------------------------------


def project_files():
    try:
        listed = subprocess.run(["git", "ls-files", "-z", "-c", "-o", "--exclude-standard"], cwd=ROOT, check=True,
                                capture_output=True).stdout
        names = [n for n in listed.decode().split("\0") if n]
    except (OSError, subprocess.CalledProcessError):
        names = [p.relative_to(ROOT).as_posix() for p in ROOT.rglob("*") if p.is_file()]
        names = [n for n in names if not re.match(r"(\.git|build[^/]*)/|viewer/app/node_modules/", n)]
    return [n for n in names if (ROOT / n).is_file()]


def write_copy(copy, faults):
    """Writes only what changed, so that ninja builds only what changed."""
    changed = {f["path"] for f in faults}
    files = project_files()
    sources = Sources(ROOT)
    for name in files:
        if name in changed:
            data = planted(name, sources.text(name), faults).encode()
        else:
            data = (ROOT / name).read_bytes()
        target = copy / name
        if not target.is_file() or target.read_bytes() != data:
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
        shutil.copymode(ROOT / name, target)
    wanted = set(files)
    for path in [p for p in copy.rglob("*") if p.is_file() or p.is_symlink()]:
        if path.relative_to(copy).as_posix() not in wanted:
            path.unlink()


def run_quietly(command, log):
    """Builds can be long: their words go to a file, whose end is shown if they fail."""
    with open(log, "wb") as out:
        done = subprocess.run(command, stdout=out, stderr=subprocess.STDOUT, check=False)
    if done.returncode != 0:
        lines = log.read_text(encoding="utf-8", errors="replace").splitlines()
        tail = [line for line in lines if re.search(r"\b(error|Error)\b", line)][:60] or lines[-60:]
        raise Trouble("\n".join(tail + [f"'{' '.join(command[:3])} ...' failed, see {log}"]))


def configure(folder):
    copy, build = folder / "source", folder / "build"
    run_quietly(["cmake", "-S", str(copy), "-B", str(build), "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release",
                 "-DCMAKE_CXX_COMPILER_LAUNCHER=ccache", "-DCANEWISE_TESTS=ON", "-DCMAKE_CXX_FLAGS="],
                folder / "configure.log")


def built_tests(build):
    """Test name -> the target that builds it, read from what CMake wrote: ctest lists no commands before a build."""
    targets = {}
    for path in build.rglob("CTestTestfile.cmake"):
        for match in re.finditer(r"add_test\((?:\[=*\[)?([^\]\s]+?)(?:\]=*\])?\s+\"([^\"]+)\"", path.read_text()):
            targets[match[1]] = pathlib.Path(match[2]).name
    return targets


class Test:
    def __init__(self, described):
        properties = {p["name"]: p["value"] for p in described.get("properties", [])}
        self.name = described["name"]
        self.command = described.get("command")
        self.folder = properties.get("WORKING_DIRECTORY")
        self.environment = dict(e.split("=", 1) for e in properties.get("ENVIRONMENT", []))
        self.seconds = 0.0


def commands_of(build, names):
    shown = subprocess.run(["ctest", "--test-dir", str(build), "--show-only=json-v1"], check=True, capture_output=True)
    tests = {t["name"]: Test(t) for t in json.loads(shown.stdout)["tests"] if t["name"] in names}
    missing = [n for n in names if n not in tests or not tests[n].command]
    if missing:
        raise Trouble(f"these tests were not built: {', '.join(sorted(missing))}")
    return tests


# --- Running tests ----------------------------------------------------------------------------------------------------


class Runner:
    """Runs tests one at a time for each of several jobs; stop() ends what is running, and nothing else."""

    def __init__(self, scratch):
        self.scratch = scratch
        self.lock = threading.Lock()
        self.running = set()
        self.stopped = False

    def run(self, test, number, limit):
        """'passed', 'failed' or 'timeout', and the seconds it took."""
        own = tempfile.mkdtemp(dir=self.scratch)
        environment = {**os.environ, **test.environment, "TMPDIR": own, "GTEST_FAIL_FAST": "1",
                       "CANEWISE_MUTANT": str(number)}
        started = time.monotonic()
        try:
            with self.lock:
                if self.stopped:
                    raise Trouble("stopped")
                process = subprocess.Popen(test.command, cwd=test.folder, env=environment, stdin=subprocess.DEVNULL,
                                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
                self.running.add(process)
            try:
                outcome = "passed" if process.wait(timeout=limit) == 0 else "failed"
            except subprocess.TimeoutExpired:
                outcome = "timeout"
            finally:
                self.end(process)
        finally:
            shutil.rmtree(own, ignore_errors=True)
        return outcome, time.monotonic() - started

    def end(self, process):
        """The whole group goes, for a test may have left a server behind."""
        with self.lock:
            self.running.discard(process)
        try:
            os.killpg(process.pid, signal.SIGKILL)
        except ProcessLookupError:
            pass
        process.wait()

    def stop(self):
        with self.lock:
            self.stopped = True
            running = list(self.running)
        for process in running:
            try:
                os.killpg(process.pid, signal.SIGKILL)
            except ProcessLookupError:
                pass


def in_parallel(jobs, runner, work, items):
    """Yields what work(item) gives, in the order in which it is done."""
    with concurrent.futures.ThreadPoolExecutor(max_workers=jobs) as pool:
        waiting = [pool.submit(work, item) for item in items]
        try:
            for done in concurrent.futures.as_completed(waiting):
                yield done.result()
        except BaseException:
            runner.stop()
            for future in waiting:
                future.cancel()
            raise


def run_clean(tests, jobs, runner, build):
    """Without a fault all tests have to pass: else a fault would look caught that is not. What passed is kept until
    something is built anew."""
    kept = build / "passed.json"
    built = max((p.stat().st_mtime_ns for p in (build / "bin").iterdir()), default=0)
    passed = json.loads(kept.read_text(encoding="utf-8")) if kept.is_file() else {}
    if passed.get("built") != built:
        passed = {"built": built, "seconds": {}}
    for name, seconds in passed["seconds"].items():
        if name in tests:
            tests[name].seconds = seconds
    left = [test for name, test in tests.items() if name not in passed["seconds"]]
    print(f"Running {len(left)} of {len(tests)} tests without a fault.", flush=True)

    def work(test):
        outcome, test.seconds = runner.run(test, 0, 3600)
        return test, outcome

    failed = []
    for test, outcome in in_parallel(jobs, runner, work, left):
        print(f"  {outcome:8} {test.name}  {test.seconds:.1f} s", flush=True)
        if outcome != "passed":
            failed.append(test.name)
            continue
        passed["seconds"][test.name] = test.seconds
        kept.write_text(json.dumps(passed, indent=1), encoding="utf-8")
    if failed:
        raise Trouble(f"these tests fail without any fault: {', '.join(sorted(failed))}")


def run_faults(faults, tests, jobs, limit, runner):
    def plan(fault):
        return sorted((tests[n] for n in tests_of(fault, tests)), key=lambda t: t.seconds)

    def work(fault):
        total = 0.0
        # Machines are busier now than when the tests ran clean, and other faults run beside this one.
        left = max(limit, 4 * sum(t.seconds for t in plan(fault)))
        for test in plan(fault):
            outcome, seconds = runner.run(test, fault["number"], left)
            total += seconds
            left = max(1.0, left - seconds)
            if outcome != "passed":
                return fault, {"failed": "caught", "timeout": "out of time"}[outcome], test.name, total
        return fault, "survived", None, total

    # Who stops it early has most of the answers.
    shortest_first = sorted(faults, key=lambda f: sum(t.seconds for t in plan(f)))
    for k, (fault, outcome, test, seconds) in enumerate(in_parallel(jobs, runner, work, shortest_first), 1):
        fault.update(outcome=outcome, by=test, seconds=round(seconds, 1))
        print(f"[{k:3}/{len(faults)}] {outcome:11} {fault['id']}  {test or ''}  {seconds:.1f} s", flush=True)


# --- What came out ----------------------------------------------------------------------------------------------------


def report(faults, folder):
    """Prints the table, writes mutants.json, and returns the exit code."""
    survivors = [f for f in faults if f["outcome"] == "survived"]
    late = [f for f in faults if f["outcome"] == "out of time"]
    rows = []
    for module in dict.fromkeys(f["module"] for f in faults):
        mine = [f for f in faults if f["module"] == module]
        rows.append((module, len(mine), sum(f["outcome"] != "survived" for f in mine)))
    rows.append(("all", len(faults), len(faults) - len(survivors)))
    print(f"\n{'module':12} {'planted':>8} {'caught':>8} {'survived':>9}")
    for name, count, caught in rows:
        print(f"{name:12} {count:8} {caught:8} {count - caught:9}")
    for title, some in (("Survivors:", survivors), ("Caught only because time ran out:", late)):
        if some:
            print(f"\n{title}")
        for f in some:
            print(f"  {f['path']}:{f['line']}: {f['id']}: {f['says']}")
            if f["outcome"] == "survived":
                tried = ", ".join(f["tests"])
                print(f"    Accepted: {f['why']}" if "why" in f else f"    No reason given. Tried {tried}")
    for f in faults:
        if "why" in f and f["outcome"] != "survived":
            print(f"\n{f['id']} is caught by {f['by']} now: take its 'why' out of the list.")
    share = rows[-1][2] / rows[-1][1]
    unexplained = [f for f in survivors if "why" not in f]
    print(f"\n{100 * share:.1f} % caught, {100 * ENOUGH:.0f} % wanted; survivors without a reason: {len(unexplained)}.")
    keys = ("id", "number", "module", "path", "line", "says", "outcome", "by", "seconds", "why")
    written = {"planted": rows[-1][1], "caught": rows[-1][2],
               "modules": [{"module": m, "planted": n, "caught": c} for m, n, c in rows[:-1]],
               "faults": [{k: f[k] for k in keys if k in f} for f in faults]}
    (folder / "mutants.json").write_text(json.dumps(written, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
    return 1 if share < ENOUGH or unexplained else 0


def chosen(faults, only, label):
    some = [f for f in faults if (not only or re.search(only, f["id"])) and (not label or f["module"] == label)]
    if not some:
        raise Trouble(f"no fault is chosen; the modules are {', '.join(dict.fromkeys(f['module'] for f in faults))}")
    return some


def run(options):
    folder = options.folder.resolve()
    folder.mkdir(parents=True, exist_ok=True)
    faults = read_faults()
    wrong = locate_all(faults, Sources(ROOT))
    if wrong:
        raise Trouble("\n".join(wrong))
    some = chosen(faults, options.only, options.label)
    # All faults are planted even when few are run: the build is the same whatever is asked next.
    write_copy(folder / "source", faults)
    print(f"Building with {len(faults)} faults in {folder / 'build'}.", flush=True)
    configure(folder)
    targets = built_tests(folder / "build")
    wrong = without_tests(some, targets)
    if wrong:
        raise Trouble("\n".join(wrong))
    names = set().union(*(tests_of(f, targets) for f in some))
    run_quietly(["cmake", "--build", str(folder / "build"), "-j", str(options.jobs), "--target",
                 *sorted({targets[n] for n in names}), "--", "-k", "0"], folder / "build.log")
    tests = commands_of(folder / "build", names)
    scratch = folder / "tmp"
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    runner = Runner(scratch)
    started = time.monotonic()
    run_clean(tests, options.jobs, runner, folder / "build")
    run_faults(some, tests, options.jobs, options.limit, runner)
    print(f"\nTests took {(time.monotonic() - started) / 60:.0f} minutes with {options.jobs} jobs.")
    return report(some, folder)


def main():
    parser = argparse.ArgumentParser(prog="mutants", description="Plants faults one by one and runs the tests that "
                                     "should catch them. Exit code 1 if too few are caught, 2 if it cannot run.")
    parser.add_argument("--only", metavar="REGEX", help="faults whose id has a match")
    parser.add_argument("--label", metavar="MODULE", help="faults of one module, as its file in faults/ is called")
    parser.add_argument("--jobs", type=int, metavar="N", default=os.cpu_count() or 1, help="faults at a time")
    parser.add_argument("--limit", type=float, metavar="SECONDS", default=120.0,
                        help="time for a fault's tests; at least four times what they take without a fault")
    parser.add_argument("--folder", type=pathlib.Path, default=ROOT / "build-mutants", help="copy, build and results")
    parser.add_argument("--list", action="store_true", help="only list the faults")
    parser.add_argument("--check", action="store_true", help="only check that every fault still fits the sources")
    options = parser.parse_args()
    try:
        if options.check:
            check()
            return 0
        if options.list:
            faults = read_faults()
            wrong = locate_all(faults, Sources(ROOT))
            for f in chosen(faults, options.only, options.label):
                place = f"{f['path']}:{f['line']}" if "at" in f else f["file"]
                print(f"{f['module']:10} {f['number']:10} {f['id']}  {place}\n    {f['says']}")
            if wrong:
                raise Trouble("\n".join(wrong))
            return 0
        return run(options)
    except Trouble as trouble:
        print(f"mutants: {trouble}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("mutants: stopped", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
