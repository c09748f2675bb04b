"""The reader: what it is given, and its network."""
import json

import torch
from safetensors.torch import load_file
from tokenizers import BertWordPieceTokenizer
from torch import nn
from transformers import BertConfig, BertModel

from cards import ROOT

BASE = f"{ROOT}/.base"
ASK_TOKENS, ANSWER_TOKENS, POINT_TOKENS, TOKENS = 64, 280, 56, 512


class Reader(nn.Module):
    """Question, answer and all points in one sequence; a point's words look for what was said of them in the answer."""

    def __init__(self, layers):
        """layers: which layers of the base stand one above the other, such as [0, 1, 2, 3, 4, 5]."""
        super().__init__()
        config = BertConfig.from_json_file(f"{BASE}/config.json")
        config.num_hidden_layers = len(layers)
        self.layers = layers
        self.bert = BertModel(config, add_pooling_layer=False)
        size = config.hidden_size
        self.seek, self.find = nn.Linear(size, size), nn.Linear(size, size)
        self.judge = nn.Sequential(nn.Linear(3 * size, size), nn.GELU(), nn.Dropout(0.1), nn.Linear(size, 3))

    def load_base(self):
        state = {k: v.float() for k, v in load_file(f"{BASE}/model.safetensors").items()}
        placed = {k: v for k, v in state.items() if not k.startswith("encoder.layer.")}
        for at, layer in enumerate(self.layers):
            old, new = f"encoder.layer.{layer}.", f"encoder.layer.{at}."
            placed |= {new + k[len(old):]: v.clone() for k, v in state.items() if k.startswith(old)}
        found = self.bert.load_state_dict(placed, strict=False)
        assert not found.missing_keys and not found.unexpected_keys, found

    def forward(self, ids, types, mask, where, spoken):
        """where [B,P,L]: mean over a point's tokens; spoken [B,L]: 1 on the answer's tokens.
        Logits [B,P,3] for nothing, said, denied, and where each point looked [B,P,L]."""
        h = self.bert(input_ids=ids, token_type_ids=types, attention_mask=mask).last_hidden_state
        point = where @ h
        score = (self.seek(point) @ self.find(h).transpose(1, 2)) / h.shape[-1] ** 0.5
        look = (score + (1 - spoken)[:, None, :] * -1e4).softmax(-1)
        seen = look @ h
        return self.judge(torch.cat([point, seen, point * seen], -1)), look


class Encoder:
    """Texts as tokens: [CLS] question [SEP] answer [SEP] point [SEP] point [SEP] ..."""

    def __init__(self):
        self.tokens = BertWordPieceTokenizer(f"{BASE}/vocab.txt", lowercase=True)
        self.cls, self.sep = self.tokens.token_to_id("[CLS]"), self.tokens.token_to_id("[SEP]")
        self.kept = {}

    def ids(self, text):
        if text not in self.kept:
            if len(self.kept) > 200_000:
                self.kept.clear()
            self.kept[text] = self.tokens.encode(text, add_special_tokens=False).ids
        return self.kept[text]

    def sequence(self, ask, points, text):
        ask, answer = self.ids(ask)[:ASK_TOKENS], self.ids(text)[:ANSWER_TOKENS]
        ids = [self.cls] + ask + [self.sep] + answer + [self.sep]
        types = [0] * (len(ask) + 2) + [1] * (len(answer) + 1)
        start, spans = len(ask) + 2, []
        for p in points:
            p = self.ids(p)[:POINT_TOKENS]
            spans.append((len(ids), len(ids) + len(p)))
            ids += p + [self.sep]
            types += [0] * (len(p) + 1)
        return ids, types, (start, start + len(answer)), spans
