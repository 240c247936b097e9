#!/usr/bin/env python3
"""Writes a software bill of materials, CycloneDX 1.5 as JSON, from `cargo metadata` and the lock file:
    sbom.py TARGET-TRIPLE >sbom.json
It lists every crate that the finished program is built from (no dev-dependencies, no optional features)
with version, license, registry address and checksum, and what needs what. The same lock file gives the
same bytes: no clock, no random serial number. Judged by the schema of CycloneDX, which comes with the
Python package cyclonedx-python-lib, where that is installed. Fails when a crate has no license, comes from elsewhere
than the registry, or has no checksum in the lock file, and when the list disagrees with `cargo tree`."""

import json
import subprocess
import sys
import tomllib
import uuid


def cargo(*arguments):
    return subprocess.run(["cargo", *arguments], check=True, capture_output=True, text=True).stdout


def checksums():
    with open("Cargo.lock", "rb") as lock:
        packages = tomllib.load(lock)["package"]
    return {(p["name"], p["version"]): p.get("checksum") for p in packages}


def used(nodes, root):
    """What is linked in or builds what is: everything but dev-dependencies."""
    found, waiting = set(), [root]
    while waiting:
        one = waiting.pop()
        if one in found:
            continue
        found.add(one)
        waiting += needs(nodes[one])
    return found


def needs(node):
    kinds = lambda dep: {kind["kind"] for kind in dep["dep_kinds"]}
    return sorted({dep["pkg"] for dep in node["deps"] if kinds(dep) != {"dev"}})


def purl(package):
    return f"pkg:cargo/{package['name']}@{package['version']}"


def component(package, sums):
    out = {
        "type": "library",
        "bom-ref": purl(package),
        "name": package["name"],
        "version": package["version"],
        "scope": "required",
        "purl": purl(package),
    }
    if package.get("description"):
        out["description"] = " ".join(package["description"].split())
    # The address of a registry starts with this, that of a repository with `git+`; `deny.toml` judges which.
    if not (package["source"] or "").startswith("registry+"):
        sys.exit(f"{purl(package)} comes from {package['source']}")
    checksum = sums.get((package["name"], package["version"]))
    if not checksum:
        sys.exit(f"{purl(package)} has no checksum in the lock file")
    out["hashes"] = [{"alg": "SHA-256", "content": checksum}]
    out["licenses"] = licenses(package)
    if package.get("repository"):
        out["externalReferences"] = [{"type": "vcs", "url": package["repository"]}]
    return out


def licenses(package):
    if not package.get("license"):
        sys.exit(f"{purl(package)} names no license")
    # Before SPDX, crates wrote a slash for OR.
    return [{"expression": package["license"].replace("/", " OR ").replace("  ", " ")}]


def bill(target):
    metadata = json.loads(
        cargo("metadata", "--format-version", "1", "--locked", "--filter-platform", target)
    )
    packages = {package["id"]: package for package in metadata["packages"]}
    nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}
    root = metadata["resolve"]["root"]
    ours, sums = packages[root], checksums()
    found = used(nodes, root)
    components = [component(packages[one], sums) for one in found if one != root]
    components.sort(key=lambda one: one["bom-ref"])
    dependencies = [
        {"ref": purl(packages[one]), "dependsOn": [purl(packages[dep]) for dep in needs(nodes[one])]}
        for one in sorted(found, key=lambda one: purl(packages[one]))
    ]
    with open("Cargo.lock", "rb") as lock:
        serial = uuid.uuid5(uuid.NAMESPACE_OID, lock.read().hex() + target)
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "serialNumber": f"urn:uuid:{serial}",
        "version": 1,
        "metadata": {
            "component": {
                "type": "application",
                "bom-ref": purl(ours),
                "name": ours["name"],
                "version": ours["version"],
                "purl": purl(ours),
                "licenses": licenses(ours),
            },
            "properties": [{"name": "cargo:target", "value": target}],
        },
        "components": components,
        "dependencies": dependencies,
    }


def check(bom, target):
    """The shape that CycloneDX 1.5 asks for, and the same crates as `cargo tree` lists."""
    refs = [one["bom-ref"] for one in bom["components"]] + [bom["metadata"]["component"]["bom-ref"]]
    assert len(refs) == len(set(refs)), "a reference stands twice"
    assert {one["ref"] for one in bom["dependencies"]} == set(refs), "a reference leads nowhere"
    for one in bom["dependencies"]:
        assert set(one["dependsOn"]) <= set(refs), one
    for one in bom["components"]:
        assert len(one["hashes"][0]["content"]) == 64, one
    # Columns of the tree: name, v1.2.3, perhaps (*) or (proc-macro) or a path.
    tree = cargo("tree", "--locked", "--target", target, "--edges", "normal,build", "--prefix", "none")
    listed = set()
    for line in tree.splitlines():
        name, version = line.split()[:2]
        listed.add(f"pkg:cargo/{name}@{version.removeprefix('v')}")
    # Metadata takes features of all targets and kinds together, the tree those of this build alone.
    missing = listed - set(refs)
    assert not missing, f"in the tree and not in the bill: {sorted(missing)}"


def judge(text):
    """The published schema; and a judge that cannot say no is none."""
    try:
        from cyclonedx.schema import SchemaVersion
        from cyclonedx.validation.json import JsonStrictValidator
    except ImportError:
        print("not judged by the schema: cyclonedx-python-lib is not installed", file=sys.stderr)
        return
    validator = JsonStrictValidator(SchemaVersion.V1_5)
    fault = validator.validate_str(text)
    assert fault is None, fault
    for good, bad in [('"type": "library"', '"type": "book"'), ('"SHA-256"', '"SHA-0"'), ('"version"', '"versoin"')]:
        assert validator.validate_str(text.replace(good, bad, 5)) is not None, bad


if __name__ == "__main__":
    triple = sys.argv[1]
    made = bill(triple)
    check(made, triple)
    written = json.dumps(made, indent=2, ensure_ascii=False)
    judge(written)
    print(written)
