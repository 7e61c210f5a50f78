"""What is played beside drums: basses, guitars, keys, strings, winds, found sounds."""

from __future__ import annotations

from typing import Final

INSTRUMENTS: Final[dict[str, dict[str, str]]] = {
    "bass": {
        "en": "bass, bs, bss, bass di, bdi, bass amp, bass mic, bass gtr, bass guitar, synth bass, "
        "syn bass, bass synth, "
        "sub bass, bass sub, subbass, 808, upright bass, upr bass, dbl bass, double bass, standup bass, "
        "fretless, "
        "string bass, bass syn, synbass, slap bass, bass slap, acoustic bass, contrabass",
        "de": "e bass, bassgitarre, kontrabass, kontra bass, akustikbass",
        "fr": "basse, contrebasse, contre basse, basse di",
        "es": "bajo, contrabajo, bajo di, bajo electrico",
        "it": "basso, contrabbasso",
        "pt": "baixo, contrabaixo, baixolao, baixo acustico",
        "nl": "bas, contrabas, basgitaar",
        "sv": "elbas, kontrabas, ståbas",
        "pl": "gitara basowa, kontrabas, basowa",
        "ru": "бас, бас гитара, контрабас",
        "ja": "ベース, ウッドベース, シンセベース, エレキベース",
    },
    "acoustic-guitar": {
        "en": "ac gtr, acgtr, acc gtr, acg, ag, agtr, a gtr, a gtrs, a guitar, ac gt, ac guitar, acou gtr, "
        "aco gtr, gtr ac, gt ac, "
        "acoustic gtr, "
        "acoustic guitar, acoustic guitars, 12 str, 12 string, 12 string gtr, 12str, nylon, nylon gtr, "
        "ag di, classical guitar, "
        "classical gtr, spanish guitar, spanish gtr, steel string, steel string gtr, aguitar, ags, acgtrs",
        "de": "a git, akustikgit, akustikgitarre, westerngit, westerngitarre, konzertgit, "
        "konzertgitarre, a gitarre, "
        "akustische gitarre, western gitarre, wandergitarre, ak git, agit, akgit",
        "fr": "guitare acoustique, guitare folk, guitare seche, guitare nylon, gt acoustique, gtr folk, "
        "gt folk, folk, seche, "
        "guitare classique",
        "es": "guitarra acustica, guitarra criolla, guitarra espanola, criolla, espanola, guit acustica, "
        "gtr acustica, "
        "guitarra clasica, guitarra nylon, gtr criolla",
        "it": "chitarra acustica, chitarra classica, chit ac, chit acustica, chit classica, acustica, classica",
        "pt": "violao, viol aco, viol nylon, violoes, violao aco, violao nylon, violao base",
        "nl": "akoestische gitaar, akoestisch gitaar, ak gitaar",
        "sv": "akustisk gitarr, akgit",
        "pl": "gitara akustyczna, git akustyczna, gitara klasyczna, akustyk",
        "ru": "акустика, акустическая гитара, акуст гитара",
        "ja": "アコギ, アコースティックギター, ガットギター",
    },
    "electric-guitar": {
        "en": "e gtr, e gtrs, egtr, egtrs, eg, egs, e guitar, el gtr, el gtrs, elgtr, el guitar, "
        "elec gtr, elec gtrs, "
        "elec guitar, electric gtr, electric gtrs, electric guitar, electric guitars, lead gtr, "
        "lead guitar, ld gtr, gtr lead, "
        "gtr ld, rhy gtr, rtm gtr, rhythm gtr, rhythm guitar, power chords, powerchords, re amp gtr",
        "de": "e git, egit, e gitarre, egitarre, e gitarren, e gits, rhythmusgit, rhythmusgitarre, "
        "sologit, sologitarre, leadgit, "
        "leadgitarre, rhythmus git, solo git",
        "fr": "guitare elec, gt elec, guitare electrique, guitare rythmique, gtr elec, guit elec",
        "es": "guitarra electrica, guitarra ritmica, guit electrica, gtr electrica, guitarra lider, guitarra solista",
        "it": "chitarra elettrica, chitarra ritmica, chit elettrica, chit el, chit ritmica, chitarra solista",
        "pt": "gtr base, guitarra base, guitarra solo",
        "nl": "elektrische gitaar, el gitaar",
        "sv": "elgitarr, elgit, elgitarrer",
        "pl": "gitara elektryczna, git elektryczna, gitara elektr",
        "ru": "электро, электрогитара, электрогитары, электро гитара, эл гитара, соло гитара, ритм гитара",
        "ja": "エレキ, エレキギター, エレキギ",
    },
    "guitar": {
        "en": "gtr, gtrs, guitar, guitars, gt, gts, gtar, guit, guits, gits",
        "de": "git, gitarre, gitarren",
        "fr": "guitare, guitares",
        "it": "chitarra, chitarre, chit",
        "nl": "gitaar, gitaren",
        "sv": "gitarr, gitarrer",
        "pl": "gitara, gitary",
        "ru": "гитара, гитары, гит",
        "ja": "ギター",
    },
    "guitarra": {"es": "guitarra, guitarras"},
    "plucked": {
        "en": "uke, ukulele, mando, mandolin, mandola, banjo, bouz, bouzouki, lap steel, pedal steel, "
        "psteel, "
        "harp, resonator, reso, sitar, oud, saz, koto, dulcimer, zither, autoharp, lute",
        "de": "mandoline, harfe, laute, hackbrett",
        "fr": "harpe, luth",
        "es": "ukelele, mandolina, arpa, cuatro, charango, tres cubano, laud",
        "it": "mandolino, arpa, liuto",
        "pt": "cavaquinho, cavaco, bandolim, viola caipira",
        "pl": "mandolina, harfa",
        "ru": "балалайка, арфа, укулеле, банджо, мандолина",
        "ja": "ウクレレ, マンドリン, バンジョー, 琴, 三味線, ハープ",
    },
    "slide": {"en": "slide, lap"},
    "keys": {
        "en": "pno, pf, piano, pianos, grand, grand piano, upr piano, upright piano, ep, epno, e piano, "
        "epiano, el piano, elec piano, "
        "electric piano, keys, kys, kbd, kbds, keyboard, keyboards, org, organ, clav, clavinet, accordion, "
        "harmonium, harpsichord, celesta, celeste, toy piano, pump organ, church organ",
        "de": "klavier, fluegel, =flügel, orgel, tasten, akkordeon, cembalo, konzertfluegel, =konzertflügel",
        "fr": "clavier, claviers, orgue, accordeon, clavecin",
        "es": "teclado, teclados, teclas, organo, acordeon",
        "it": "pianoforte, tastiere, tastiera, organo, fisarmonica",
        "pt": "orgao, sanfona, acordeao",
        "nl": "toetsen, orgel, vleugel, accordeon",
        "sv": "klaviatur, flygel, dragspel",
        "pl": "fortepian, klawisze, pianino, organy, klawisz",
        "ru": "рояль, клавиши, пианино, орган, аккордеон, фортепиано",
        "ja": "ピアノ, オルガン, キーボード, エレピ, アコーディオン",
    },
    "synth": {
        "en": "syn, synth, synths, synthesizer, synthesiser, pad, pads, lead syn, lead synth, "
        "synth lead, syn lead, "
        "synth pad, poly synth, mono synth, saw lead, square lead, supersaw",
        "de": "flache, flaechen, flaeche, =fläche, =flächen, flachen, synthie",
        "fr": "synthe, synthes, nappe, nappes",
        "es": "sinte, sintes, colchon, sintetizador",
        "it": "tappeto, sintetizzatore",
        "pt": "sint, cama, camas, sintetizador",
        "nl": "synthesizer",
        "sv": "syntar, syntmatta",
        "pl": "syntezator",
        "ru": "синт, синтезатор, пэд, пад",
        "ja": "シンセ, パッド, シンセリード",
    },
    "synth-part": {
        "en": "arp, arps, arpeggio, pluck, plucks, bell, bells, seq, sequence, drone, drones, texture, "
        "textures, stab, stabs, "
        "chord stab",
        "ja": "アルペジオ, シーケンス",
    },
    "strings": {
        "en": "strs, strings, string section, string quartet, str qrt, vln, vlns, vn, vns, vla, vc, vlc, "
        "clo, cello, cellos, celli, basses, double basses, contrabasses, "
        "violin, violins, violas, qrt, strgs, strng, fiddle, fiddles, vni, vle",
        "de": "streicher, geige, geigen, bratsche, bratschen, violine, violinen, streichquartett",
        "fr": "cordes, violon, violons, violoncelle, alto cordes",
        "es": "cuerdas, violin, violines, violonchelo, chelo",
        "it": "archi, violino, violini, violoncello",
        "pt": "cordas, violoncelo",
        "nl": "strijkers, viool",
        "sv": "strak, stråkar, strakar, fiol",
        "pl": "smyczki, skrzypce, wiolonczela, altowka",
        "ru": "струнные, скрипка, скрипки, виолончель",
        "ja": "ストリングス, バイオリン, ヴァイオリン, チェロ, ビオラ",
    },
    "winds": {
        "en": "brs, brass, brass section, hns, horns, horn, horn section, tpt, tpts, trumpet, trumpets, "
        "trpt, tbn, tbns, trombone, trombones, "
        "sax, saxes, saxophone, saxo, a sax, t sax, b sax, alto sax, tenor sax, bari sax, bari, "
        "soprano sax, asax, tsax, "
        "bsax, flute, "
        "flutes, clarinet, oboe, bassoon, english horn, french horn, tuba, flugelhorn, harmonica, "
        "recorder, whistle, "
        "tin whistle, winds, woodwinds, woodwind, ob, fg, hn, piccolo, bagpipe, bagpipes, mouth harp, "
        "blues harp, ww",
        "de": "blaser, blaeser, blech, blechblaser, holz, holzblaser, trompete, trompeten, posaune, "
        "posaunen, flote, floete, floeten, floten, "
        "klarinette, fagott, horner, waldhorn, saxofon, saxophon, mundharmonika",
        "fr": "cuivres, bois, trompette, flute, hautbois, basson, cor, saxophone, clarinette",
        "es": "metales, vientos, trompeta, trombon, flauta, clarinete, saxofon, armonica",
        "it": "fiati, ottoni, tromba, flauto, clarinetto, sassofono, corno",
        "pt": "metais, sopros, trompete, flauta, clarinete, gaita, sax alto, sax tenor",
        "nl": "blazers, trompet, fluit",
        "sv": "blas, blåsare, trumpet, trombon",
        "pl": "dete, trabka, puzon, saksofon, flet",
        "ru": "медь, труба, тромбон, саксофон, флейта, духовые",
        "ja": "ブラス, サックス, トランペット, フルート, トロンボーン, 尺八",
    },
    "sound-effects": {
        "en": "sfx, sound fx, sound effect, sound effects, riser, risers, uplifter, downlifter, impact, "
        "impacts, imp, whoosh, whooshes, "
        "foley, ear candy, sub drop, bass drop, field recording, crowd, applause, rain, "
        "thunder, transition, transitions, "
        "reverse cymbal, rev cym, rev cymbal, rev crash, reverse crash",
        "de": "gerausch, gerausche, geraeusch, geraeusche, regen",
        "fr": "bruitage, bruitages, bruit",
        "es": "ruido, ruidos",
        "it": "rumore, rumori",
        "pt": "ruidos",
        "pl": "szum",
        "ru": "шум, шумы",
        "ja": "効果音",
    },
    "sound": {"en": "noise, boom, booms, vinyl, sweep, sweeps, smpl, smpls, sample, samples", "ja": "サンプル"},
}

AMBIGUOUS_INSTRUMENTS: Final[dict[str, tuple[str, ...]]] = {
    "baritone": ("vocal", "winds", "electric-guitar"),
    "flugel": ("keys", "winds"),
    "upright": ("bass", "keys"),
    "upr": ("bass", "keys"),
    "harm": ("vocal-double", "keys"),
    "cb": ("strings", "percussion"),
    "cl": ("winds", "electric-guitar"),
    "clar": ("winds",),
    "fl": ("winds", "toms"),
    "tp": ("winds", "snare"),
    "accord": ("keys",),
    "timpano": ("toms", "percussion"),
    "alto": ("strings", "winds", "vocal"),
    "tenor": ("winds", "vocal"),
    "soprano": ("winds", "vocal"),
    "viola": ("strings", "plucked"),
    "se": ("sound-effects",),
    "cap": ("bass",),
    "steel": ("acoustic-guitar", "plucked"),
    "china": ("overheads",),
}
"""Words with more than one reading, whichever language they are in; a single entry is merely weak."""
