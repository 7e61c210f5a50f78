"""Drums and percussion."""

from __future__ import annotations

from typing import Final

DRUMS: Final[dict[str, dict[str, str]]] = {
    "kick": {
        "en": "kick, kicks, kik, kck, kk, kd, bd, bass drum, bdrum, kick drum, kick in, kick out, "
        "sub kick, kick sub, "
        "beater, k in, k out, k sub",
        "de": "bassdrum, grosse trommel, grosse tr, fusstrommel",
        "fr": "grosse caisse, gc",
        "es": "bombo, bombo legüero",
        "it": "cassa, grancassa, gran cassa",
        "pt": "bumbo",
        "nl": "basdrum, bas drum",
        "sv": "bastrumma, kagge, baskagge",
        "pl": "stopa, beben basowy",
        "ru": "бочка, большой барабан",
        "ja": "キック, バスドラ, バスドラム",
    },
    "snare": {
        "en": "snare, sn, snr, sd, snare drum, snr drum, piccolo snare, rim, rimshot, rim shot, "
        "side stick, sidestick, "
        "cross stick, "
        "sn top, sn bot, sn tp, snr tp, sn bt, sn t, sn b",
        "de": "kleine trommel",
        "fr": "caisse claire, cc",
        "es": "caja, tarola, redoblante",
        "it": "rullante",
        "pt": "caixa",
        "nl": "snaartrom, snare trom",
        "sv": "virvel, virveltrumma",
        "pl": "werbel",
        "ru": "малый, рабочий, малый барабан, рабочий барабан, снейр",
        "ja": "スネア",
    },
    "hi-hat": {
        "en": "hh, hat, hats, hihat, hi hat, hi hats, high hat, ohh, chh, open hat, closed hat",
        "fr": "charleston, charley",
        "es": "charles, contratiempo",
        "pt": "chimbal, contratempo",
        "ru": "хэт, хай хэт, хайхэт, хет, хай хет",
        "ja": "ハイハット, ハット",
    },
    "toms": {
        "en": "tom, toms, rack tom, rack toms, floor tom, floor, flr, flr tom, rack, rt tom, ft, fl tom, "
        "tom fl, "
        "hi tom, lo tom, high tom, low tom, mid tom, tom hi, tom lo, tom low, tom high, tom mid",
        "de": "hangetom, haengetom, standtom, stand tom, hange tom",
        "fr": "tom basse, tom medium, tom alto, tom aigu",
        "es": "tom de piso, timbal, toms de piso, tom piso",
        "it": "tom timpano",
        "pt": "surdo",
        "ru": "том, томы, напольный том",
        "ja": "タム, フロアタム, ハイタム, ロータム, フロア",
    },
    "overheads": {
        "en": "oh, ohs, o h, ovh, ovhd, ovhds, over, overs, overhead, overheads, over head, over heads, "
        "cym, cyms, cymbal, "
        "cymbals, ride, "
        "crash, splash, china cymbal, ohl, ohr",
        "de": "becken",
        "fr": "aerien, aeriens, cymbale, cymbales",
        "es": "aereo, aereos, platos, platillos",
        "it": "panoramico, panoramici, piatti, piatto",
        "pt": "pratos, prato",
        "pl": "blachy",
        "ru": "оверхед, оверхеды, тарелки, оверы",
        "ja": "トップ, オーバーヘッド, シンバル",
    },
    "drum-room": {
        "en": "drum room, drums room, drum rooms, drm room, drum rm, drm rm, drum amb, drm amb, "
        "drum ambience, mono room, "
        "crush mic, crush mics, kit room, kit far, drum far, trash mic, far mic",
    },
    "drums": {
        "en": "drum, drums, drm, drms, dr, drs, drumkit, drum kit, kit, drum machine, e drums",
        "de": "schlagzeug, trommel, trommeln, schlgz",
        "fr": "batterie, batt",
        "es": "bateria",
        "it": "batteria",
        "nl": "drumstel",
        "sv": "trummor, trumma",
        "pl": "bebny, zestaw perkusyjny",
        "ru": "барабаны, барабан, ударные, ударка",
        "ja": "ドラム, ドラムス",
    },
    "percussion": {
        "en": "perc, percs, prc, percussion, shk, shaker, shakers, shkr, tamb, tmb, tambo, tambourine, "
        "tambs, conga, congas, "
        "bongo, bongos, cajon, clap, claps, handclap, hand clap, hand claps, handclaps, snap, snaps, "
        "finger snap, "
        "cowbell, triangle, woodblock, wood block, "
        "cabasa, guiro, maracas, maraca, timbale, timbales, djembe, tabla, udu, clave, claves, agogo, "
        "bell tree, "
        "wind chimes, chimes, bar chimes, sleigh bells, steel drum, steel drums, steel pan, glock, "
        "glockenspiel, "
        "vibes, vibraphone, vibraphon, marimba, xylophone, xylo, tubular bells, kettledrum, timpani, "
        "timps, gong, stomp, stomps, "
        "hand drum, hand drums, frame drum, taiko",
        "de": "perkussion, rassel, rasseln, schellenring, schellenkranz, klatschen, pauke, pauken, "
        "triangel, kuhglocke, glockenspiel, xylophon, klatscher",
        "fr": "percu, percus, tambourin, maracasses, percussions, claquement, clochettes",
        "es": "percusion, pandereta, percusiones, cencerro, palmas, palmadas, pandero",
        "it": "percussioni, tamburello, sonagli, battimani",
        "pt": "percussao, pandeiro, ganza, cuica, tamborim, agogo, palmas, reco reco, zabumba, triangulo, percus",
        "nl": "percussie, handgeklap",
        "sv": "slagverk, tamburin, handklapp",
        "pl": "perkusjonalia, tamburyn, klaskanie",
        "ru": "перкуссия, шейкер, бубен, хлопки, тамбурин",
        "ja": "パーカッション, シェイカー, タンバリン, クラップ, コンガ",
    },
    "perkusja": {"pl": "perkusja"},
    "loop": {
        "en": "loop, loops, lp, top loop, beat, beats, drum loop, drum loops, drm loop, perc loop, "
        "breakbeat, break beat",
        "fr": "boucle, boucles",
        "ru": "луп",
        "ja": "ループ",
    },
    "programmed": {"en": "prog, programming, programmed"},
}
