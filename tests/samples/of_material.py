"""What the rules on material, joints and buried pipe leave to a person, or cannot tell, of each sample plan."""

from __future__ import annotations

# what only eyes on the tube, the rings and the trench can tell
MATERIAL_ON_SITE = {
    ("print_marks", "/tubes"),
    ("joint_system", "/runs"),
    ("lead_free", "/parts"),
    ("ring_check", "/runs"),
    ("solder_near_tube", "/runs/entry"),
    ("buried_pipe", "/runs/service"),
    ("buried_pipe", "/runs/service/cover"),
}
_ALL = ("bath-cold", "tub-cold", "bath-link", "wc-cold", "basin-cold", "sink-cold", "heater-cold", "heater-hot")
_ALL += ("sink-hot", "bath-hot", "tub-hot", "basin-hot")
MATERIAL_OF_FLAT = {"/tubes/blue/print", "/tubes/red/print", "/parts/cold-row/joint"}
MATERIAL_OF_FLAT |= {"/claims", "/tubes/blue/sun", "/tubes/red/sun"}
MATERIAL_OF_FLAT |= {f"/runs/{run}/joint" for run in _ALL}
MATERIAL_OF_APPRENTICE = {("joint_system", f"/parts/{row}", f"/parts/{row}/joint") for row in ("cold-row", "hot-row")}
