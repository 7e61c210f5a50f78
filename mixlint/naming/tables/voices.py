"""Voices, and the words that tell how a part is played or picked up."""

from __future__ import annotations

from typing import Final

VOICES: Final[dict[str, dict[str, str]]] = {
    "lead-vocal": {
        "en": "lv, lead v, lvox, ldv, lvoc, ld vox, ld voc, lead vox, lead voc, lead vocal, lead vocals, "
        "vox lead, lead vx, main vox, "
        "main vocal, adlib, ad lib, adlibs, ad libs, rap, lead rap, raps",
        "de": "leadgesang, hauptgesang, hauptstimme, leadstimme, lead gesang",
        "fr": "voix lead, voix principale, lead voix",
        "es": "voz principal, voz lider, primera voz, voz lead",
        "it": "voce solista, voce principale, voce lead",
        "pt": "voz solo, primeira voz",
        "nl": "hoofdzang, leadzang",
        "sv": "huvudsang, leadsang",
        "ru": "лид вокал, основной вокал",
        "ja": "メインボーカル, リードボーカル",
    },
    "voice": {
        "en": "vox, vx, voc, vocs, vcl, vcls, vocal, vocals, vcs, voice, voices, singer, vocl, vocalist, "
        "spoken word, spoken",
        "de": "gesang, stimme, stimmen, sprache",
        "fr": "voix, chant",
        "es": "voz, voces",
        "it": "voce, voci",
        "pt": "voz, vozes, vocais",
        "nl": "zang, stem zang",
        "sv": "sang",
        "pl": "wokal, glos, wokale",
        "ru": "вокал, голос",
        "ja": "ボーカル, ヴォーカル, 歌, 声",
    },
    "double-vocal": {
        "en": "lv dbl, vox dbl, vocal double, harmony, harmonies, harmony vox, hrm, hrmny, harms, "
        "whisper, whispers, lvdbl, voxdbl",
        "de": "dopplung, zweite stimme, zweitstimme, dopplungen, gesangsdopplung, fluestern, flustern",
        "fr": "doublage, tierce, deuxieme voix, choriste doublage",
        "es": "dobla, segunda voz, voz doble, voz doblada, armonias",
        "it": "doppia, seconda voce, doppia voce, armonie",
        "pt": "dobra, segunda voz, dobra de voz, harmonias",
        "nl": "tweede stem, dubbel",
        "sv": "dubbel, stamma, stammor",
        "ja": "ダブル, ハモリ, ハモ",
    },
    "double": {
        "en": "dbl, dbls, double, doubles, dub, dubs, dt, double track, doubletrack, x 2",
        "es": "doble, dobles",
    },
    "interval": {
        "en": "high, hi, low, lo, 3 rd, 5 th, third, fifth, oct, octave, octaves, 8 ve, 8 va",
        "de": "terz, quinte, oktave",
    },
    "backing-vocals": {
        "en": "bgv, bgvs, bv, bvs, bvox, bvx, bvoc, bgvox, bkg, bkgs, bkg vox, back vox, back voc, "
        "backing vox, backing vocal, backing vocals, "
        "background vocals, background vox, backup vox, backups, backing, backings, gang, gang vox, "
        "gang vocals, choir, "
        "choirs, stack, stacks, oohs, aahs, ooh, aah, oos, aas, ahs, bg vox, bg voc, group vox, bk vox, "
        "bck vox, shouts, la las",
        "de": "hintergrundgesang, chore, choere, =chöre, begleitgesang, backgroundgesang",
        "fr": "choeur, choeurs, choriste, choristes",
        "es": "coros, coro",
        "it": "cori, coro, coristi",
        "pt": "coral, backing, vocais de apoio, vocal de apoio",
        "nl": "achtergrond, koor, achtergrondzang, koortje",
        "sv": "kor, korsang, körer, korer",
        "pl": "chorki, chor pl, chorek",
        "ru": "бэки, бэк, бэк вокал, хор, бэквокал, подпевки",
        "ja": "コーラス, 合唱",
    },
}

PLAYING: Final[dict[str, dict[str, str]]] = {
    "acoustic": {
        "en": "aco, acou, acoustic, acoustics, acous",
        "de": "akustik, akustisch, akustische",
        "fr": "acoustique",
        "es": "acustico",
        "it": "acustico",
        "nl": "akoestisch, akoestische",
        "sv": "akustisk",
        "pl": "akustyczna, akustyczny",
        "ja": "アコースティック",
    },
    "acoustic-hint": {
        "en": "body, neck, 12 th, 12 th fret, pu, strum, strums, strumming, pick, picked, fingerpicked, fingerstyle"
    },
    "electric": {
        "en": "elec, electric, electrics, elecs, elc",
        "de": "elektrisch, elektrische, elek",
        "fr": "electrique",
        "es": "electrica, electrico",
        "it": "elettrica, elettrico",
        "sv": "elektrisk",
        "pl": "elektryczna",
    },
    "electric-hint": {
        "en": "dist, distorted, clean, crunch, crunchy, rhy, rhythm, rhtm, rtm, ryth, riff, riffs, chug, "
        "chugs, overdriven, fuzz, octaver",
        "de": "rhythmus, verzerrt",
        "fr": "rythmique",
        "es": "ritmica",
        "it": "ritmica",
    },
    "lead": {
        "en": "lead, ld, leads, main, principal, hook",
        "de": "haupt",
        "es": "solista, lider",
        "it": "principale",
        "ja": "リード, メイン",
    },
    "solo": {"en": "solo, solos"},
    "e": {"en": "e, el"},
    "a": {"en": "a"},
    "ac": {"en": "ac"},
    "str": {"en": "str"},
    "back": {"en": "bg, back, background, bgd, bk"},
    "verse": {
        "en": "verse, verses, vrs, prechorus, pre chorus, bridge vox",
        "de": "strophe",
        "fr": "couplet",
        "es": "verso, estrofa",
        "it": "strofa",
        "pt": "verso",
        "ja": "aメロ, bメロ",
    },
    "section": {
        "en": "four on the floor, bridge, brg, intro, outro, break, breakdown, middle 8, coda, ending, v, ch, br",
        "de": "refrain, zwischenspiel",
        "fr": "pont",
        "es": "estribillo, puente",
        "it": "ritornello",
        "pt": "refrao, ponte",
        "ja": "サビ, イントロ",
    },
    "mic": {
        "en": "mic, mics, mike, di, amp, amps, cab, cabs, reamp, re amp, close, near, top, bot, btm, "
        "bottom, in, out, front, side, "
        "ribbon, direct, line, mid, ms",
        "de": "mikro, oben, unten",
        "fr": "micro, ampli, haut, bas micro",
        "es": "ampli, arriba, abajo",
        "it": "microfono, ampli",
    },
    "room": {
        "en": "room, rm, rooms, rms, hallway, corridor, stairwell, garage",
        "de": "raum, raummikro",
        "fr": "piece",
        "es": "sala",
        "it": "stanza",
        "nl": "kamer",
        "sv": "rum",
        "ja": "ルーム",
    },
    "ambience": {
        "en": "amb, ambs, ambience, ambient, far, atmo, atmos",
        "fr": "ambiance",
        "es": "ambiente",
        "pt": "ambiencia",
        "ja": "アンビ, アンビエンス",
    },
    "t": {"en": "t"},
    "key": {"en": "key"},
    "chorus": {"en": "chorus, chrs"},
    "chor": {"en": "chor"},
}
