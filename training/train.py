"""Trains the reader: python3 train.py OUT [--config JSON]. On a GPU where there is one."""
import argparse
import json
import os
import random
import time

import numpy as np
import torch
from safetensors.torch import load_file, save_file
from tokenizers import Tokenizer
from torch import nn
from transformers import BertConfig, BertModel

from cards import ROOT
from examples import answers, held, statements, training, cards, example

DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
BASE = f"{ROOT}/.base"
CLS, SEP = 101, 102
ANSWER_TOKENS, TOKENS = 300, 512


class Reader(nn.Module):
    """Question, answer and all points in one sequence; a point's words look for what was said of them in the answer."""

    def __init__(self, layers=6):
        super().__init__()
        config = BertConfig.from_json_file(f"{BASE}/config.json")
        config.num_hidden_layers = layers
        self.bert = BertModel(config, add_pooling_layer=False)
        size = config.hidden_size
        self.seek, self.find = nn.Linear(size, size), nn.Linear(size, size)
        self.judge = nn.Sequential(nn.Linear(3 * size, size), nn.GELU(), nn.Dropout(0.1), nn.Linear(size, 3))

    def load_base(self):
        state = {k: v.float() for k, v in load_file(f"{BASE}/model.safetensors").items() if "position_ids" not in k and "pooler" not in k}
        missing = self.bert.load_state_dict({k: v for k, v in state.items()}, strict=False)
        print("missing", missing.missing_keys[:3], "unexpected", missing.unexpected_keys[:3])

    def forward(self, ids, types, mask, where, spoken, attend=None):
        """where [B,P,L]: mean over a point's tokens; spoken [B,L]: 1 on the answer's tokens."""
        h = self.bert(input_ids=ids, token_type_ids=types, attention_mask=mask if attend is None else attend).last_hidden_state
        point = where @ h
        score = (self.seek(point) @ self.find(h).transpose(1, 2)) / h.shape[-1] ** 0.5
        look = (score + (1 - spoken)[:, None, :] * -1e4).softmax(-1)
        seen = look @ h
        return self.judge(torch.cat([point, seen, point * seen], -1)), look


class Encoder:
    def __init__(self):
        self.tokens = Tokenizer.from_file(f"{BASE}/tokenizer.json")
        self.tokens.no_truncation()
        self.tokens.no_padding()
        self.kept = {}

    def ids(self, text):
        if text not in self.kept:
            self.kept[text] = self.tokens.encode(text, add_special_tokens=False).ids
        return self.kept[text]

    def sequence(self, ask, points, text):
        ask, answer = self.ids(ask)[:64], self.ids(text)[:ANSWER_TOKENS]
        ids = [CLS] + ask + [SEP] + answer + [SEP]
        types = [0] * (len(ask) + 2) + [1] * (len(answer) + 1)
        start, spans = len(ask) + 2, []
        for p in points:
            p = self.ids(p)[:48]
            spans.append((len(ids), len(ids) + len(p)))
            ids += p + [SEP]
            types += [0] * (len(p) + 1)
        return ids, types, (start, start + len(answer)), spans


def batch(encoder, rows, blocks):
    coded = [encoder.sequence(r["ask"], r["points"], r["text"]) for r in rows]
    length = min(TOKENS, max(len(c[0]) for c in coded))
    count = max(len(c[3]) for c in coded)
    size = len(rows)
    ids, types, mask = (np.zeros((size, length), np.int64) for _ in range(3))
    where, spoken = np.zeros((size, count, length), np.float32), np.zeros((size, length), np.float32)
    y, w = np.full((size, count), -1, np.int64), np.zeros((size, count), np.float32)
    attend = np.zeros((size, 1, length, length), np.bool_) if blocks else None
    for i, (r, (a, t, (s, e), spans)) in enumerate(zip(rows, coded)):
        n = min(len(a), length)
        ids[i, :n], types[i, :n], mask[i, :n] = a[:n], t[:n], 1
        spoken[i, s:e] = 1
        if blocks:
            # Question and answer see each other; a point sees these and itself, no other point.
            attend[i, 0, :, : spans[0][0]] = True
        for j, (p, q) in enumerate(spans):
            q = min(q, length)
            if q > p:
                where[i, j, p:q] = 1 / (q - p)
                y[i, j] = r["y"][j]
                w[i, j] = r["weight"] * r.get("weights", [1] * len(spans))[j]
                if blocks:
                    attend[i, 0, p : q + 1, p : q + 1] = True
    return [None if x is None else torch.from_numpy(x) for x in (ids, types, mask, where, spoken, attend, y, w)]


def placed(tensors):
    ids, types, mask, where, spoken, attend, y, w = (None if x is None else x.to(DEVICE, non_blocking=True) for x in tensors)
    if attend is not None:
        attend = (~attend).float() * -1e4
    return ids, types, mask, where, spoken, attend, y, w


class Parts(torch.utils.data.Dataset):
    """Batches, made by workers beside the training."""

    def __init__(self, encoder, parts, config):
        self.encoder, self.parts, self.config = encoder, parts, config

    def __len__(self):
        return len(self.parts)

    def __getitem__(self, at):
        part = self.parts[at]
        if self.config["pairs"]:
            part = [one for r in part for one in apart(r) if one["y"][0] >= 0]
        return batch(self.encoder, part, self.config["blocks"])


def made(encoder, parts, config):
    return torch.utils.data.DataLoader(Parts(encoder, parts, config), batch_size=None, num_workers=config["workers"], prefetch_factor=4 if config["workers"] else None)


def roughened(rng, text):
    """As a recogniser or a hurried hand writes it."""
    roll = rng.random()
    if roll < 0.2:
        text = "".join(c for c in text.lower() if c.isalnum() or c in " '-")
    elif roll < 0.35:
        words = text.split()
        for _ in range(max(1, len(words) // 12)):
            at = rng.randrange(len(words))
            word = words[at]
            if len(word) > 4:
                cut = rng.randrange(1, len(word) - 1)
                words[at] = word[:cut] + word[cut + 1 :] if rng.random() < 0.5 else word[:cut] + word[cut + 1] + word[cut] + word[cut + 2 :]
        text = " ".join(words)
    return text


def varied(rng, row):
    """Points in another order, now and then some left out."""
    order = list(range(len(row["points"])))
    rng.shuffle(order)
    if len(order) > 2 and rng.random() < 0.25:
        order = order[: rng.randint(2, len(order))]
    weights = row.get("weights", [1] * len(row["points"]))
    pick = lambda values: [values[i] for i in order]
    return {**row, "points": pick(row["points"]), "y": pick(row["y"]), "weights": pick(weights), "text": roughened(rng, row["text"])}


def apart(row):
    """One example for each point: what a reader of pairs is given."""
    weights = row.get("weights", [1] * len(row["points"]))
    return [{**row, "points": [p], "y": [y], "weights": [w]} for p, y, w in zip(row["points"], row["y"], weights)]


@torch.no_grad()
def read(model, encoder, rows, config):
    """Probabilities [points, 3] for each row."""
    model.eval()
    flat, owner = (rows, None) if not config["pairs"] else ([], [])
    if config["pairs"]:
        for i, r in enumerate(rows):
            for one in apart(r):
                flat.append(one)
                owner.append(i)
    order = sorted(range(len(flat)), key=lambda i: len(flat[i]["text"]))
    out = [None] * len(flat)
    parts = [order[at : at + 64] for at in range(0, len(order), 64)]
    plain = {**config, "pairs": False}
    for part, tensors in zip(parts, made(encoder, [[flat[i] for i in part] for part in parts], plain)):
        ids, types, mask, where, spoken, attend, _, _ = placed(tensors)
        logits, _ = model(ids, types, mask, where, spoken, attend)
        for i, p in zip(part, logits.float().softmax(-1).cpu().numpy()):
            out[i] = p[: len(flat[i]["points"])]
    if config["pairs"]:
        gathered = [[] for _ in rows]
        for i, p in zip(owner, out):
            gathered[i].append(p[0])
        out = [np.array(g) for g in gathered]
    return out


def prf(hit, wanted):
    tp, fp, fn = (hit & wanted).sum(), (hit & ~wanted).sum(), (~hit & wanted).sum()
    return f"P {tp / max(1, tp + fp):.3f} R {tp / max(1, tp + fn):.3f} F {2 * tp / max(1, 2 * tp + fp + fn):.3f}"


def report(name, model, encoder, rows, config):
    p = np.concatenate(read(model, encoder, rows, config))
    y = np.array([v for r in rows for v in r["y"]])
    p, y = p[y >= 0], y[y >= 0]
    top = p.argmax(-1)
    print(f"  {name}: said {prf(top == 1, y == 1)} | denied {prf(top == 2, y == 2)} | denied>.8 {prf(p[:, 2] > .8, y == 2)}")


def report_single(model, encoder, config):
    decks = cards()
    data = statements()["dev"]
    rows = [example(decks[k], t, [0] * len(decks[k]["points"]), "", 1, k) for k, _, _, t in data]
    p = read(model, encoder, rows, config)
    one = np.array([q[at] for q, (_, at, _, _) in zip(p, data)])
    y = np.array([label for _, _, label, _ in data])
    top = one.argmax(-1)
    shares = {n: [round(100 * float((top[y == v] == k).mean()), 1) for k in (1, 2)] for n, v in (("said", 1), ("denied", 2), ("nothing", 0))}
    print("  single, % credited and % told denied, of", shares)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("out")
    parser.add_argument("--config", default="{}")
    args = parser.parse_args()
    config = {"seed": 1, "epochs": 8, "rate": 1e-4, "size": 32, "layers": 6, "pairs": False, "blocks": False, "smooth": 0.05, "all": False, "workers": 3, "limit": 0, "hints": 0,
              **json.loads(args.config)}
    torch.manual_seed(config["seed"])
    rng = random.Random(config["seed"])
    encoder, model = Encoder(), Reader(config["layers"]).to(DEVICE)
    model.load_base()
    model.to(DEVICE)
    rows = training()
    if config["all"]:
        rows += answers()["dev"]
    dev, outside = answers()["dev"], held()
    if config["limit"]:
        rows, dev, outside = rows[: config["limit"]], dev[:20], outside[:20]
    steps = config["epochs"] * (len(rows) // config["size"] + 1)
    head = [p for n, p in model.named_parameters() if not n.startswith("bert.")]
    optimiser = torch.optim.AdamW([{"params": model.bert.parameters()}, {"params": head, "lr": config["rate"] * 3}], lr=config["rate"], weight_decay=0.01)
    schedule = torch.optim.lr_scheduler.LambdaLR(optimiser, lambda s: min(1, s / (0.08 * steps)) * max(0.0, 1 - s / steps) + 1e-6)
    begun = time.time()
    for epoch in range(config["epochs"]):
        model.train()
        total = 0.0
        now = [varied(rng, r) for r in rows]
        rng.shuffle(now)
        # Of like length together, in batches in chance order.
        now = [r for at in range(0, len(now), 2048) for r in sorted(now[at : at + 2048], key=lambda r: len(r["text"]))]
        parts = [now[at : at + config["size"]] for at in range(0, len(now), config["size"])]
        rng.shuffle(parts)
        for tensors in made(encoder, parts, config):
            ids, types, mask, where, spoken, attend, y, w = placed(tensors)
            with torch.autocast(DEVICE, dtype=torch.bfloat16):
                logits, _ = model(ids, types, mask, where, spoken, attend)
            loss = nn.functional.cross_entropy(logits.float().flatten(0, 1), y.flatten(), reduction="none", ignore_index=-1, label_smoothing=config["smooth"])
            loss = (loss * w.flatten()).sum() / w.sum().clamp(min=1)
            optimiser.zero_grad()
            loss.backward()
            nn.utils.clip_grad_norm_(model.parameters(), 1.0)
            optimiser.step()
            schedule.step()
            total += loss.item()
        if epoch % 3 == 2 or epoch == config["epochs"] - 1:
            print(f"epoch {epoch + 1} loss {total / len(parts):.3f} {time.time() - begun:.0f} s {json.dumps(config)}", flush=True)
            report("dev", model, encoder, dev, config)
            report("held", model, encoder, outside, config)
            report_single(model, encoder, config)
    os.makedirs(args.out, exist_ok=True)
    save_file({k: v.half().contiguous().cpu() for k, v in model.state_dict().items()}, f"{args.out}/reader.safetensors")


if __name__ == "__main__":
    main()
