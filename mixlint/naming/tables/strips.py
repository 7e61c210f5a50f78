"""What a strip of the desk is for: returns, buses, the mix bus, and what never reaches it."""

from __future__ import annotations

from typing import Final

STRIPS: Final[dict[str, dict[str, str]]] = {
    "reverb": {
        "en": "verb, verbs, vrb, rvb, rvrb, reverb, reverbs, plate, plates, plt, hall, halls, chamber, "
        "chambers, chmbr, spring, "
        "nonlin, non lin, room verb, room reverb, verb room, cathedral, church verb, rev plate, "
        "rev hall, rev room",
        "de": "raumhall, platte, hallplatte, federhall, nachhall, hallraum, hallfahne",
        "fr": "reverbe, =rév, reverbes, plaque, ressort, reverberation",
        "es": "rever, placa, muelles, reverberacion",
        "it": "riverbero, piastra, molla",
        "pt": "mola, reverberacao",
        "nl": "galm, galmpje, nagalm",
        "sv": "efterklang, rumsklang",
        "pl": "poglos, poglosy",
        "ru": "ревер, реверб, ревербератор, холл",
        "ja": "リバーブ, ホール, プレート",
    },
    "rev": {"en": "rev, revs"},
    "delay": {
        "en": "dly, dlys, delay, delays, echo, echoes, echos, echoe, slap, slapback, slap back, "
        "ping pong, pingpong, notevalue, throw, "
        "throws, tape echo, tape delay, dotted eighth, qtr dly",
        "de": "verzogerung, verzoegerung",
        "fr": "delai",
        "es": "retardo, eco",
        "it": "ritardo",
        "pt": "atraso",
        "sv": "eko",
        "ru": "дилей, эхо, дилэй",
        "ja": "ディレイ, エコー",
    },
    "del": {"en": "del, ping"},
    "modulation": {
        "en": "flng, flange, flanger, phaser, doubler, dbler, widener, modulation, micro pitch, "
        "micropitch, microshift, micro shift, vibrato, "
        "tremolo, ensemble fx, rotary",
        "ja": "モジュレーション",
    },
    "mod": {"en": "mod, wide, wides, pitch"},
    "fx": {
        "en": "fx, efx, effect, effects",
        "de": "effekte, effekt, effektweg",
        "fr": "effets, effet",
        "es": "efectos, efecto",
        "it": "effetti, effetto",
        "pt": "efeitos, efeito",
        "ja": "エフェクト",
    },
    "time": {"en": "short, long, tail, space, ambi"},
    "return": {
        "en": "rtn, rtns, ret, rets, return, returns, fx rtn, fx return, fx ret, snd, send, sends, fx send",
        "de": "ruckweg, rueckweg, effektweg",
        "fr": "retour, depart, retours",
        "es": "envio, envios",
        "it": "ritorno, mandata, ritorni",
        "pt": "mandada",
    },
    "retorno": {"pt": "retorno, retornos"},
    "parallel": {
        "en": "para, prl, parallel, parallels, pll, ny comp, parallel comp, para comp, parallel drums, "
        "para drums, para bus, "
        "comp bus, crush bus, smash bus",
        "de": "parallelkompression",
        "fr": "parallele",
        "es": "paralelo",
        "it": "parallelo",
        "ja": "パラレル, パラ",
    },
    "crush": {"en": "crush, crushed, smash, smashed, press, squash"},
    "thick": {"en": "sat, thick, dirt, grit, comp, comps"},
    "bus": {
        "en": "bus, buss, busses, buses, grp, grps, group, groups, submix, sub mix, sub group, subgroup, "
        "subgrp, sub grp, sub bus, sum, mst grp",
        "de": "gruppe, subgruppe, grup",
        "fr": "groupe, sous groupe, sousgroupe, grpe",
        "es": "grupo, subgrupo",
        "it": "gruppo, sottogruppo",
        "nl": "groep, subgroep",
        "sv": "grupp",
        "pl": "grupa",
        "ru": "группа, шина",
        "ja": "グループ, バス",
    },
    "aux": {"en": "aux, auxes"},
    "stem": {"en": "stem, stems, all"},
    "sub": {"en": "sub, subs"},
    "mix-bus": {
        "en": "mix bus, mixbus, mix buss, 2 bus, 2 buss, two bus, 2 mix, st bus, st out, st mix bus, "
        "stereo bus, stereo out, stereo output, main out, "
        "main outs, main bus, master bus, master buss, mstr bus, master out, main mix bus, master fader, "
        "stereo mix bus, str out, mix print, print mix, "
        "lr bus, l r bus, l r out, main l r",
        "de": "stereosumme, summenbus, hauptsumme, summe stereo, mastersumme",
        "fr": "bus general, bus master, sortie generale, sortie stereo",
        "es": "salida master, salida principal, salida estereo, bus master",
        "it": "uscita master, uscita stereo, uscita principale",
        "pt": "saida master, saida principal, saida estereo",
        "ja": "マスターバス, 2ミックス, マスターアウト",
    },
    "master": {
        "en": "mix, master, mstr, mains, mixdown",
        "de": "summe",
        "fr": "general, sortie",
        "es": "salida",
        "it": "uscita",
        "pt": "saida",
        "nl": "hoofdmix",
        "pl": "suma",
        "ru": "мастер",
        "ja": "マスター, ミックス",
    },
    "print": {"en": "print, prints, printed"},
    "cue": {
        "en": "cue, cues, hp, hps, phones, headphone, headphones, cans, foldback, cue mix, mon, mons, "
        "monitor mix, iem, in ear, hp mix, "
        "phones mix, headphone mix",
        "de": "kopfhorer, kopfhoerer, kh, kh mix",
        "fr": "casque, casques, retour casque, retours casque",
        "es": "auriculares, cascos",
        "it": "cuffia, cuffie",
        "pt": "fone, fones, retorno palco, retorno de palco, retorno fone",
        "ja": "キュー, ヘッドホン",
    },
    "click": {
        "en": "click, clk, clicktrack, click track, metro, metronome, count, count in, countin, count off",
        "de": "klick, metronom, klickspur",
        "fr": "clic",
        "es": "claqueta",
        "it": "",
        "pt": "clique",
        "pl": "klik",
        "sv": "klickspar",
        "ru": "клик, метроном",
        "ja": "クリック, メトロノーム",
    },
    "guide": {
        "en": "guide, guides, gd, scratch, scr, pilot, demo, temp, guide vox, guide vocal, scratch vox, temp vox",
        "de": "pilotspur, dreckspur, pilotgesang",
        "fr": "temoin, maquette, voix temoin",
        "es": "guia, maqueta, voz guia",
        "it": "guida, provino, voce guida",
        "pt": "voz guia, guia",
        "ja": "ガイド, 仮歌, 仮",
    },
    "live": {"en": "live"},
    "reference": {
        "en": "ref, refs, reference, references, rough, rough mix, roughmix, rm mix, comp mix, "
        "master ref, ref mix, mix ref, ref track",
        "de": "referenz, rohmix, referenzmix",
        "fr": "mise a plat, ref mix",
        "es": "referencia, mezcla previa",
        "it": "riferimento",
        "pl": "referencja",
        "ru": "референс",
        "ja": "リファレンス, ラフ, ラフミックス",
    },
    "utility": {
        "en": "tb, talkback, talk back, tb mic, slate, tc, ltc, mtc, smpte, timecode, time code, vca, "
        "vcas, dca, dcas, video, picture, lyrics, "
        "listenback, listen back, tuner, test tone, test tones",
        "de": "regie, kommando",
        "fr": "ordres",
        "ja": "トークバック",
    },
    "notes": {"en": "notes, comments, memo, info"},
    "key-input": {
        "en": "trig, trigs, trigger, sc, sidechain, side chain, key in, key input, sc key, ghost kick, "
        "sc trig, kick key, snare key"
    },
}
