"""Trains the reader: python3 train.py OUT [--config JSON]. On a GPU where there is one."""
import argparse
import copy
import json
import os
import random
import time

import numpy as np
import torch
from safetensors.torch import load_file, save_file
from torch import nn

from cards import to_train_on
from examples import answers, bank, example, held, inserted, shown, statements, training
from model import TOKENS, Encoder, Reader

DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
USUAL = {"seed": 1, "epochs": 10, "rate": 2e-4, "tokens": 9000, "rows": 64, "layers": [0, 1, 1, 2, 3, 3, 4, 5, 5], "smooth": 0.05, "all": False,
         "workers": 3, "limit": 0, "hints": 2, "rejects": 1, "vary": True, "inserted": 0.6, "teachers": [], "mean": 0.999, "report": 3, "seconds": 0, "begin": ""}


def batch(encoder, rows):
    coded = [encoder.sequence(r["ask"], r["points"], r["text"]) for r in rows]
    length = min(TOKENS, max(len(c[0]) for c in coded))
    count = max(len(c[3]) for c in coded)
    size = len(rows)
    ids, types, mask = (np.zeros((size, length), np.int64) for _ in range(3))
    where, spoken = np.zeros((size, count, length), np.float32), np.zeros((size, length), np.float32)
    y, w = np.full((size, count), -1, np.int64), np.zeros((size, count), np.float32)
    for i, (r, (a, t, (s, e), spans)) in enumerate(zip(rows, coded)):
        n = min(len(a), length)
        ids[i, :n], types[i, :n], mask[i, :n] = a[:n], t[:n], 1
        spoken[i, s:e] = 1
        for j, (p, q) in enumerate(spans):
            q = min(q, length)
            if q > p:
                where[i, j, p:q] = 1 / (q - p)
                y[i, j] = r["y"][j]
                w[i, j] = r["weight"] * r.get("weights", [1] * len(spans))[j]
    return [torch.from_numpy(x) for x in (ids, types, mask, where, spoken, y, w)]


class Parts(torch.utils.data.Dataset):
    """Batches, made by workers beside the training."""

    def __init__(self, encoder, parts):
        self.encoder, self.parts = encoder, parts

    def __len__(self):
        return len(self.parts)

    def __getitem__(self, at):
        return batch(self.encoder, self.parts[at])


def made(encoder, parts, config):
    workers = config["workers"]
    return torch.utils.data.DataLoader(Parts(encoder, parts), batch_size=None, num_workers=workers, prefetch_factor=6 if workers else None)


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


def plain(row, config):
    """With its points as the reader is shown them."""
    return {**row, "points": [shown(p, config["hints"], config["rejects"]) for p in row["points"]]}


def varied(rng, row, config):
    """Points in another order, now and then some left out, shown by other phrases."""
    order = list(range(len(row["points"])))
    rng.shuffle(order)
    if len(order) > 2 and rng.random() < 0.25:
        order = order[: rng.randint(2, len(order))]
    weights = row.get("weights", [1] * len(row["points"]))
    pick = lambda values: [values[i] for i in order]
    points = [shown(p, config["hints"], config["rejects"], rng if config["vary"] else None) for p in pick(row["points"])]
    return {**row, "points": points, "y": pick(row["y"]), "weights": pick(weights), "text": roughened(rng, row["text"])}


def parted(rng, rows, config):
    """Rows of like length together, in batches of about so many words, in chance order."""
    weight = lambda r: len(r["ask"]) + len(r["text"]) + sum(len(p) for p in r["points"])
    rng.shuffle(rows)
    parts = []
    for at in range(0, len(rows), 4096):
        part, longest = [], 0
        for r in sorted(rows[at : at + 4096], key=weight):
            longest = max(longest, weight(r) / 4.2)
            if part and ((len(part) + 1) * longest > config["tokens"] or len(part) >= config["rows"]):
                parts.append(part)
                part, longest = [], weight(r) / 4.2
            part.append(r)
        parts.append(part)
    rng.shuffle(parts)
    return parts


@torch.no_grad()
def read(model, encoder, rows, config):
    """Probabilities [points, 3] for each row."""
    model.eval()
    rows = [plain(r, config) for r in rows]
    order = sorted(range(len(rows)), key=lambda i: len(rows[i]["text"]))
    out = [None] * len(rows)
    parts = [order[at : at + 64] for at in range(0, len(order), 64)]
    for part, tensors in zip(parts, made(encoder, [[rows[i] for i in part] for part in parts], config)):
        ids, types, mask, where, spoken, _, _ = (x.to(DEVICE, non_blocking=True) for x in tensors)
        logits, _ = model(ids, types, mask, where, spoken)
        for i, p in zip(part, logits.float().softmax(-1).cpu().numpy()):
            out[i] = p[: len(rows[i]["points"])]
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
    decks = to_train_on()
    data = statements()["dev"]
    rows = [example(decks[k], t, [0] * len(decks[k]["points"]), "", 1, k) for k, _, _, t in data]
    p = read(model, encoder, rows, config)
    one = np.array([q[at] for q, (_, at, _, _) in zip(p, data)])
    y = np.array([label for _, _, label, _ in data])
    top = one.argmax(-1)
    shares = {n: [round(100 * float((top[y == v] == k).mean()), 1) for k in (1, 2)] for n, v in (("said", 1), ("denied", 2), ("nothing", 0))}
    print("  single, % credited and % told denied, of", shares, flush=True)


def teachers(config):
    """Readers trained before, whose mean the new one is to come near."""
    out = []
    for path, layers in config["teachers"]:
        model = Reader(layers).to(DEVICE)
        model.load_state_dict({k: v.float() for k, v in load_file(path).items()})
        out.append(model.eval())
    return out


def loss_of(logits, y, w, taught, smooth):
    """Against the labels, and against the teachers where there are some; a point whose label is not known has these alone."""
    logits = logits.float().flatten(0, 1)
    plain_loss = nn.functional.cross_entropy(logits, y.flatten(), reduction="none", ignore_index=-1, label_smoothing=smooth)
    w = w.flatten()
    if taught is None:
        return (plain_loss * w).sum() / w.sum().clamp(min=1)
    soft = -(taught.flatten(0, 1) * logits.log_softmax(-1)).sum(-1)
    both = torch.where(y.flatten() >= 0, 0.35 * plain_loss + 0.65 * soft, soft)
    return (both * w).sum() / w.sum().clamp(min=1)


def pieces(weights, limit=15_500_000):
    """The weights in files that are small enough to be carried."""
    out, size = [{}], 0
    for name, value in weights.items():
        bytes_ = value.numel() * value.element_size()
        if size + bytes_ > limit and out[-1]:
            out.append({})
            size = 0
        out[-1][name] = value
        size += bytes_
    return out


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("out")
    parser.add_argument("--config", default="{}")
    args = parser.parse_args()
    config = {**USUAL, **json.loads(args.config)}
    torch.manual_seed(config["seed"])
    rng = random.Random(config["seed"])
    encoder, model = Encoder(), Reader(config["layers"])
    if config["begin"]:
        model.load_state_dict({k: v.float() for k, v in load_file(config["begin"]).items()})
    else:
        model.load_base()
    model.to(DEVICE)
    mean = copy.deepcopy(model).eval()
    above = teachers(config)
    rows = training()
    if config["all"]:
        rows += answers()["dev"]
    spoken_of, dev, outside = bank(), answers()["dev"], held()
    if config["limit"]:
        rows, dev, outside = rows[: config["limit"]], dev[:20], outside[:20]

    def epoch_parts():
        more = [inserted(rng, r, spoken_of) for r in rows if r["source"].startswith("answer") and rng.random() < config["inserted"]]
        return parted(rng, [varied(rng, r, config) for r in rows + [r for r in more if r]], config)

    steps = config["epochs"] * len(epoch_parts())
    head = [p for n, p in model.named_parameters() if not n.startswith("bert.")]
    optimiser = torch.optim.AdamW([{"params": model.bert.parameters()}, {"params": head, "lr": config["rate"] * 3}], lr=config["rate"], weight_decay=0.01)
    begun, step, limit = time.time(), 0, config["seconds"]

    def left(at):
        """The share of the training that is left: by steps, or by the clock where it has a limit."""
        return max(0.0, 1 - (time.time() - begun) / limit if limit else 1 - at / steps)

    schedule = torch.optim.lr_scheduler.LambdaLR(optimiser, lambda s: min(1, (s + 1) / 200) * left(s) + 1e-6)
    print(f"{len(rows)} rows, {steps} steps, {len(dev)} answers to choose by, {json.dumps(config)}", flush=True)
    for epoch in range(config["epochs"]):
        model.train()
        total, parts = 0.0, epoch_parts()
        for tensors in made(encoder, parts, config):
            ids, types, mask, where, spoken, y, w = (x.to(DEVICE, non_blocking=True) for x in tensors)
            with torch.autocast(DEVICE, dtype=torch.bfloat16):
                taught = None
                if above:
                    with torch.no_grad():
                        taught = torch.stack([t(ids, types, mask, where, spoken)[0].float().softmax(-1) for t in above]).mean(0)
                logits, _ = model(ids, types, mask, where, spoken)
            loss = loss_of(logits, y, w, taught, config["smooth"])
            optimiser.zero_grad()
            loss.backward()
            nn.utils.clip_grad_norm_(model.parameters(), 1.0)
            optimiser.step()
            schedule.step()
            if limit and not left(0):
                break
            total += loss.detach()
            step += 1
            with torch.no_grad():
                keep = min(config["mean"], (1 + step) / (10 + step))
                ours, theirs = list(mean.parameters()), list(model.parameters())
                torch._foreach_lerp_(ours, theirs, 1 - keep)
        last = epoch == config["epochs"] - 1 or bool(limit and not left(0))
        print(f"epoch {epoch + 1} loss {float(total) / len(parts):.3f} {time.time() - begun:.0f} s", flush=True)
        if epoch % config["report"] == config["report"] - 1 or last:
            report("dev", mean, encoder, dev, config)
            report("held", mean, encoder, outside, config)
            report_single(mean, encoder, config)
        if last:
            break
    os.makedirs(args.out, exist_ok=True)
    weights = {k: v.half().contiguous().cpu() for k, v in mean.state_dict().items()}
    save_file(weights, f"{args.out}/reader.safetensors")
    for at, part in enumerate(pieces(weights)):
        save_file(part, f"{args.out}/reader-{at}.safetensors")


if __name__ == "__main__":
    main()
