#!/usr/bin/env python3
"""Holds a JUnit report of redtag against a reader that is not ours: the PyPI package junitparser 5.0.3 (Apache-2.0).

    python3 tests/outside/junit.py REPORT.xml REPORT.json [strict]

Both reports are of the same run. Every finding has to come back as one test case with the verdict its outcome asks for, every rule
that a failed module left unanswered as an error, and the counts on the suites have to be those of their cases.
"""

import json
import sys
from collections import Counter

from junitparser import Error, Failure, JUnitXml, Skipped


def wanted(reports, strict):
    verdicts = Counter()
    for review in reports["reviews"]:
        for finding in review["findings"]:
            settled = finding.get("variance") is not None or finding.get("known", False)
            outcome = finding["outcome"]
            fails = outcome == "correction" or (strict and outcome == "unresolved")
            if fails and not settled:
                verdict = "failure"
            elif outcome in ("correction", "unresolved", "not-applicable") or finding.get("variance") is not None:
                verdict = "skipped"
            else:
                verdict = "passed"
            verdicts[finding["rule"], verdict] += 1
        for failure in review.get("failures", []):
            for rule in failure["rules"] or [failure["module"]]:
                verdicts[rule, "error"] += 1
        for silent in review.get("not_looked_at", {}).get("equipment", []):
            if "why" not in silent:
                verdicts["not-looked-at", "failure" if strict and "since" not in review else "skipped"] += 1
    for refused in reports.get("refused", []):
        for complaint in refused["complaints"]:
            verdicts["document/" + complaint["code"], "error" if complaint["severity"] == "error" else "passed"] += 1
    return verdicts


def found(xml):
    names = {Failure: "failure", Error: "error", Skipped: "skipped"}
    verdicts = Counter()
    for suite in xml:
        cases = list(suite)
        counted = Counter()
        for case in cases:
            kinds = [names[type(result)] for result in case.result]
            assert len(kinds) <= 1, case.name
            verdict = kinds[0] if kinds else "passed"
            counted[verdict] += 1
            verdicts[case.classname, verdict] += 1
        told = (suite.tests, suite.failures, suite.errors, suite.skipped)
        assert told == (len(cases), counted["failure"], counted["error"], counted["skipped"]), suite.name
        names_of_cases = [(case.classname, case.name) for case in cases if case.name != "not answered"]
        assert len(names_of_cases) == len(set(names_of_cases)), f"{suite.name}: two cases of one name"
    return verdicts


def main():
    report, document, *rest = sys.argv[1:]
    xml = JUnitXml.fromfile(report)
    with open(document, encoding="utf-8") as file:
        expected = wanted(json.load(file), rest == ["strict"])
    actual = found(xml)
    assert expected, "the report is empty"
    assert actual == expected, f"missing {expected - actual}, too many {actual - expected}"
    totals = Counter()
    for (_, verdict), count in actual.items():
        totals[verdict] += count
    print(f"{sum(totals.values())} cases in {len(list(xml))} suites: {dict(sorted(totals.items()))}")


if __name__ == "__main__":
    main()
