"""What the lines below an event of a CMX 3600 list say of each of its edits: clip, file and speed."""

from collections.abc import Iterator, Sequence

from trackread.cutting.statements import Block, Edit, Motion


def comes_in(edit: Edit) -> bool:
    """Whether an edit is what a transition goes to."""
    return edit.transition not in ("C", "KB")


def clip_of(edit: Edit, block: Block) -> str:
    """The name of an edit's clip: TO CLIP NAME where a transition goes to it, else FROM CLIP NAME.

    What is faded up from black has at times its name as FROM.
    """
    alike = [one for one in block.edits if comes_in(one) == comes_in(edit)]
    names = block.from_names
    if comes_in(edit) and (block.to_names or not from_black(block)):
        names = block.to_names
    return chosen(names, alike, edit)


def from_black(block: Block) -> bool:
    """Whether the one name of a transition can only be what it goes to."""
    return all(comes_in(one) or one.fields.source == "BL" for one in block.edits)


def file_of(edit: Edit, block: Block) -> str:
    """The name of an edit's file. What a transition comes from needs none, having no length."""
    lasting = [one for one in block.edits if one.fields.record_in != one.fields.record_out]
    return chosen(block.files, block.edits if len(block.files) == len(block.edits) else lasting, edit)


def chosen(names: Sequence[str], edits: Sequence[Edit], edit: Edit) -> str:
    """A name for all edits, or for each its own, in order; "" for an edit that is not among them."""
    if edit not in edits:
        return ""
    if len(names) == len(edits):
        return names[edits.index(edit)]
    return names[0] if len(names) == 1 else ""


def motion_of(edit: Edit, block: Block) -> Motion | None:
    """The speed of an edit: of its reel, and from its source in on if the block has several for that."""
    of_reel = [one for one in block.motions if names_reel(one, edit)]
    from_in = [one for one in of_reel if one.trigger == edit.fields.source_in]
    return next(iter([*from_in, *of_reel]), None)


def names_reel(motion: Motion, edit: Edit) -> bool:
    return motion.reel.casefold() in ("", edit.fields.source.casefold())


def unused_details(block: Block) -> Iterator[tuple[int, str]]:
    """What is said below an event and belongs to none of its edits, each with a line."""
    for motion in block.motions:
        if not any(names_reel(motion, edit) for edit in block.edits):
            yield motion.line, f"this speed is of the reel {motion.reel!r}, which the event above does not use"
    if not block.edits:
        return
    used = {name for edit in block.edits for name in (clip_of(edit, block), file_of(edit, block))}
    # What a transition of one line comes from is named again with the event above.
    named = [*([] if all(map(comes_in, block.edits)) else block.from_names), *block.to_names, *block.files]
    for name in dict.fromkeys(named):
        if name not in used:
            yield block.edits[0].line, f"cannot be told to what of this event the name {name!r} belongs: left aside"
