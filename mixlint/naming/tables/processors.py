"""What a processor does: generic words of the trade for it, and what settles two of them."""

from __future__ import annotations

from typing import Final

PROCESSORS: Final[dict[str, dict[str, str]]] = {
    "reverb": {
        "en": "reverb, reverbs, verb, verbs, vrb, rvb, reverberator, reverberation, plate, plates, hall, "
        "halls, chamber, chambers, spring reverb, spring, "
        "convolution, convolver, impulse response, cathedral, ambience, nonlin, non lin, gated reverb, "
        "shimmer, room reverb, "
        "room verb, large room, small room, live room, reverse reverb",
        "de": "nachhall, raumhall, federhall, plattenhall, hallplatte, hallraum, faltungshall, platte",
        "fr": "reverbe, =rév, plaque, ressort, reverberation",
        "es": "rever, placa, muelles, reverberacion",
        "it": "riverbero, piastra, molla",
        "pt": "mola, reverberacao",
        "nl": "galm, nagalm",
        "sv": "efterklang",
        "pl": "poglos",
        "ru": "ревер, реверб, ревербератор",
        "ja": "リバーブ, ホール",
    },
    "delay": {
        "en": "delay, delays, dly, echo, echoes, slap, slapback, slap back, ping pong, pingpong, "
        "tape echo, multitap, multi tap, notevalue",
        "de": "verzogerung, verzoegerung",
        "fr": "delai, retard",
        "es": "retardo, eco",
        "it": "ritardo",
        "pt": "atraso",
        "sv": "eko, fordrojning",
        "pl": "opoznienie",
        "ru": "дилей, задержка, эхо",
        "ja": "ディレイ, エコー",
    },
    "equalizer": {
        "en": "eq, eqs, equalizer, equaliser, parametric, graphic eq, graphic equalizer, shelf, "
        "shelving, tilt, tone control, peq, geq, "
        "dynamic eq, dyn eq",
        "de": "entzerrer, klangregelung",
        "fr": "egaliseur, egalisation, correcteur",
        "es": "ecualizador, ecu",
        "it": "equalizzatore",
        "pt": "equalizador",
        "pl": "korektor",
        "ru": "эквалайзер, эк, эквалайзер параметрический",
        "ja": "イコライザー, イコライザ",
    },
    "filter": {
        "en": "filter, filters, low cut, lowcut, lo cut, locut, high cut, highcut, hi cut, hicut, hpf, "
        "lpf, high pass, highpass, low pass, "
        "lowpass, band pass, bandpass, notch, hp filter, lp filter, rumble filter, wah, auto wah, "
        "autowah, comb filter",
        "de": "tiefensperre, hochpass, tiefpass, bandpass, trittschallfilter, hohensperre",
        "fr": "filtre, coupe bas, passe haut, passe bas, coupe haut",
        "es": "filtro, corta graves, pasa altos, pasa bajos",
        "it": "filtro, taglia bassi, passa alto, passa basso",
        "pt": "filtro, corta graves, passa altas, passa alta, passa baixas",
        "sv": "hogpass, lagpass",
        "pl": "filtr",
        "ru": "фильтр, обрезной фильтр",
        "ja": "フィルター, ローカット, ハイカット, ローパス, ハイパス",
    },
    "compressor": {
        "en": "compressor, compressors, comp, ducker, limiting amplifier, limiting amp, cmp, "
        "bus compressor, compression, bus comp, buss comp, leveler, leveller, "
        "levelling amp, leveling amplifier, "
        "multiband comp, multiband compressor, opto, vca comp, glue comp, upward compressor, parallel comp",
        "de": "kompressor, verdichter",
        "fr": "compresseur",
        "es": "compresor",
        "it": "compressore",
        "pt": "compressor",
        "sv": "kompressor",
        "pl": "kompresor",
        "ru": "компрессор",
        "ja": "コンプレッサー, コンプ, コンプレッサ",
    },
    "limiter": {
        "en": "limiter, limiters, limit, maximizer, maximiser, clipper, soft clipper, brickwall, "
        "brick wall, true peak limiter",
        "de": "begrenzer",
        "fr": "limiteur",
        "es": "limitador",
        "it": "limitatore",
        "pt": "limitador",
        "ru": "лимитер",
        "ja": "リミッター, リミッタ",
    },
    "gate": {
        "en": "gate, gates, noise gate, noisegate, gater",
        "fr": "porte, porte de bruit",
        "es": "puerta, puerta de ruido",
        "pl": "bramka",
        "ru": "гейт",
        "ja": "ゲート, ノイズゲート",
    },
    "expander": {"en": "expander, downward expander", "fr": "expanseur", "es": "expansor", "ja": "エキスパンダー"},
    "de-esser": {
        "en": "de esser, deesser, desser, de ess, deess, sibilance",
        "fr": "de esseur, deesseur",
        "ja": "ディエッサー, ディエッサ",
        "ru": "деэссер, диэссер",
    },
    "modulation": {
        "en": "chorus, chorusing, flanger, flange, phaser, phase shifter, tremolo, trem, vibrato, "
        "rotary, rotary speaker, auto pan, autopan, "
        "auto panner, autopanner, ensemble, ring mod, ring modulator, modulation, doubler, adt, "
        "dimension chorus",
        "de": "phasenschieber",
        "ru": "хорус, флэнжер, фэйзер, тремоло",
        "ja": "コーラス, フランジャー, フェイザー, トレモロ",
    },
    "distortion": {
        "en": "distortion, dist, overdrive, drive, saturation, saturator, saturate, fuzz, bit crusher, "
        "bitcrusher, crusher, tape saturation, "
        "tape machine, waveshaper, wave shaper, exciter, amp sim, amp simulator, guitar amp, bass amp, "
        "cabinet, cab sim, cab, tube amp, tape, "
        "tape sim, lo fi, lofi, preamp, harmonics, console emulation",
        "de": "verzerrer, sattigung, saettigung, bandsattigung, ubersteuerung",
        "fr": "distorsion, saturation, satu",
        "es": "distorsion, saturacion",
        "it": "distorsore, distorsione, saturazione",
        "pt": "distorcao, saturacao",
        "ru": "дисторшн, сатурация, овердрайв",
        "ja": "ディストーション, サチュレーション, オーバードライブ",
    },
    "pitch": {
        "en": "pitch, pitch shift, pitch shifter, pitchshift, pitch shifting, pitch correction, "
        "pitch corrector, vocal tuning, auto tuning, harmonizer, harmoniser, octaver, octave, "
        "frequency shifter, freq shifter, formant, vocal tune, tuning, vocoder, micro pitch, micropitch, "
        "detune, micro shift",
        "de": "tonhohe, tonhohenkorrektur",
        "ja": "ピッチ, ピッチ補正",
    },
    "restoration": {
        "en": "denoise, de noise, denoiser, de noiser, declick, de click, declicker, de clicker, declip, "
        "de clip, declipper, de hum, dehum, "
        "dehummer, hum removal, noise reduction, noise removal, dereverb, de reverb, debreath, "
        "de breath, de crackle, decrackle, restoration, "
        "repair, de plosive, deplosive, de bleed, debleed, nr",
        "de": "entrauschen, entrauscher, rauschunterdruckung, entklicken",
        "fr": "debruitage, restauration",
        "es": "restauracion, reduccion de ruido",
        "it": "restauro",
        "pt": "restauracao, reducao de ruido",
        "ja": "ノイズ除去",
    },
    "spatial": {
        "en": "widener, stereo widener, width, stereo width, imager, stereo imager, mid side, ms matrix, "
        "m s matrix, pan, panner, binaural, "
        "spatializer, spatialiser, surround panner, stereo enhancer, haas, stereo image, stereo spread, "
        "ambisonic, ms decoder, ms encoder, stereo tool",
        "de": "stereobreite, basisbreite",
        "ja": "ステレオイメージャー",
    },
    "utility": {
        "en": "trim, gain, gain trim, utility, volume, polarity, polarity invert, phase invert, invert, "
        "mid side trim, dc offset, dc filter, "
        "channel tool, level, mono maker, bass mono, time align, sample delay, phase align, align, "
        "delay compensation, ms trim, balance, "
        "fader, channel swap, null test",
        "de": "pegel, verstarkung, polaritat",
        "fr": "volume, niveau",
        "es": "ganancia, volumen",
        "it": "guadagno",
        "pt": "ganho",
        "ja": "ゲイン, トリム, ボリューム",
    },
    "analyser": {
        "en": "meter, meters, metering, analyser, analyzer, spectrum, spectrum analyser, "
        "spectrum analyzer, loudness meter, loudness, lufs, vu, vu meter, "
        "correlation, goniometer, vectorscope, phase meter, scope, oscilloscope, tuner, rta, "
        "correlation meter, ppm, true peak meter, "
        "level meter, peak meter, spectrogram",
        "de": "pegelanzeige, messgerat, analysator, stimmgerat, korrelation, korrelationsgradmesser",
        "fr": "analyseur, vumetre, vu metre, accordeur, correlateur",
        "es": "medidor, analizador, afinador, vumetro, espectro",
        "it": "analizzatore, misuratore, accordatore",
        "pt": "medidor, analisador, afinador",
        "pl": "miernik, analizator",
        "ru": "анализатор, тюнер, измеритель, метр уровня",
        "ja": "メーター, アナライザー, チューナー",
    },
    "monitor": {
        "en": "room correction, headphone correction, speaker correction, monitor correction, dim, "
        "mono switch, monitor control, monitoring, monitor, "
        "crossfeed, headphone eq, correction eq room, calibration, speaker calibration, "
        "headphone calibration, speaker sim monitor, "
        "mono check, mono button, monitor mono, monitor dim",
        "de": "raumkorrektur, kopfhorerkorrektur, einmessung, abhorkorrektur, mono taste",
        "fr": "correction de salle, correction casque, correction acoustique",
        "es": "correccion de sala",
        "it": "correzione ambientale",
        "pt": "correcao de sala",
        "ja": "ルーム補正",
    },
    "multi-effect": {
        "en": "channel strip, multi effect, multi effects, multi fx, multifx, mastering chain, "
        "vocal chain, voice chain, effect chain, effects chain, fx chain, "
        "effects rack, fx rack, mastering suite, guitar rig chain, vocal strip, console channel, "
        "channelstrip",
        "de": "kanalzug, multieffekt",
        "fr": "tranche, multi effets",
        "es": "multiefectos, canal",
        "ja": "チャンネルストリップ, マルチエフェクト",
    },
    "instrument": {
        "en": "sampler, synthesizer, synthesiser, synth, drum machine, rompler, virtual instrument, "
        "software instrument, drum sampler, soft synth, "
        "piano instrument, drum synth",
        "de": "klangerzeuger",
        "ja": "シンセサイザー, サンプラー",
    },
    "note-effect": {
        "en": "arpeggiator, note effect, midi effect, midi filter, transposer, note filter, "
        "chord trigger, note repeat, scale quantizer"
    },
}

OUTRANKS: Final[tuple[tuple[str, str], ...]] = (
    ("monitor", "equalizer"),
    ("monitor", "pitch"),
    ("analyser", "equalizer"),
    ("analyser", "limiter"),
    ("analyser", "utility"),
    ("analyser", "monitor"),
    ("analyser", "spatial"),
    ("restoration", "gate"),
    ("restoration", "reverb"),
    ("de-esser", "equalizer"),
    ("equalizer", "filter"),
    ("reverb", "gate"),
    ("reverb", "distortion"),
    ("delay", "distortion"),
    ("delay", "filter"),
    ("compressor", "distortion"),
    ("compressor", "utility"),
    ("limiter", "distortion"),
    ("distortion", "utility"),
    ("utility", "spatial"),
    ("modulation", "spatial"),
    ("modulation", "reverb"),
    ("delay", "modulation"),
    ("modulation", "distortion"),
    ("instrument", "filter"),
    ("multi-effect", "equalizer"),
    ("multi-effect", "compressor"),
    ("filter", "distortion"),
    ("spatial", "pitch"),
    ("pitch", "utility"),
)
"""Two kinds named at once: the first is what the processor does, the second how or where."""

AMBIGUOUS_PROCESSORS: Final[dict[str, str]] = {
    "room": "'room' can be a reverb or the correction of a room",
    "rooms": "'rooms' can be a reverb or the correction of a room",
    "rev": "'rev' can be a reverb or a reverse effect",
    "strip": "'strip' does not tell what it does",
    "mono": "'mono' can be a monitor switch or a width control",
    "dynamics": "'dynamics' can be a compressor, a gate or a limiter",
    "dyn": "'dyn' can be a compressor, a gate or a limiter",
    "multiband": "'multiband' can be a compressor, a limiter or an equaliser",
    "correction": "'correction' can be for the room, the headphones or the pitch",
    "transient": "'transient' can be a shaper of attacks or a gate",
    "de": "'de' alone does not tell what is taken away",
    "sala": "'sala' can be a reverb or a room",
    "raum": "'raum' can be a reverb or a room",
    "salle": "'salle' can be a reverb or a room",
    "ambiente": "'ambiente' can be a reverb or a room",
    "effect": "'effect' does not tell which one",
    "effects": "'effects' does not tell which ones",
    "fx": "'fx' does not tell which effect",
}
"""Words that leave a question, with the reason."""

SETTLED_ON: Final[dict[str, tuple[tuple[str, ...], str]]] = {
    "return": (("room", "rooms", "rev", "sala", "raum", "salle", "ambiente"), "reverb"),
    "master": (("mono", "correction"), "monitor"),
}
"""Words whose question the kind of channel settles, and how."""
