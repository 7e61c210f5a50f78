// The page of `mixlint watch --page`: renews itself, and puts a form beside each row that can be signed.
// An element of the page with data-fingerprint, that of a finding, gets its form below what it folds away. The forms of
// all other findings stand in a list at the end.
"use strict";
(() => {
  const made = (tag, text, more) => {
    const one = document.createElement(tag);
    if (text) one.textContent = text;
    return Object.assign(one, more || {});
  };
  const told = document.body.insertBefore(made("p", "", { role: "status" }), document.body.firstChild);
  const turn = Number(document.currentScript.dataset.turn);
  let typing = false;

  const look = async () => {
    try {
      const answer = await fetch("state", { cache: "no-store" });
      if (!answer.ok) throw new Error();
      const state = await answer.json();
      const newer = state.turn !== turn;
      if (newer && !typing) return location.reload();
      told.textContent =
        state.said || (newer ? "A newer review stands: reload the page when the form is sent or empty." :
        state.unheard ? "The sound is being heard." : "");
    } catch {
      told.textContent = "mixlint watch has ended; this is the last review.";
    }
    setTimeout(look, 700);
  };

  const form = (row) => {
    const form = made("form", "", { className: "sign", autocomplete: "off" });
    const field = (label, name, long) => {
      const input = made("input", "", { name, required: true, maxLength: long, type: "text" });
      const shown = made("label", `${label} `);
      shown.append(input);
      form.append(shown, " ");
      return input;
    };
    const chosen = (label, name, values) => {
      const select = made("select", "", { name });
      for (const one of values) select.append(made("option", one, { value: one }));
      const shown = made("label", `${label} `);
      shown.append(select);
      form.append(shown, " ");
      return select;
    };
    const answer = row.verdict === "open" ? chosen("answer", "answer", ["yes", "no", "not-applicable"]) : null;
    const because = field("because", "because", 2000);
    const by = field("initials", "by", 16);
    const scope = chosen("for", "scope", ["finding", "part", "song", "project"]);
    const send = made("button", answer ? "answer" : "sign", { type: "submit" });
    const said = made("output");
    form.append(send, " ", said);
    form.addEventListener("input", () => { typing = because.value !== "" || by.value !== ""; });
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      send.disabled = true;
      said.textContent = "…";
      const body = { rule: row.rule, channel: row.channel, because: because.value, by: by.value, scope: scope.value };
      if (answer) body.answer = answer.value;
      try {
        const reply = await fetch("sign", {
          method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body),
        });
        const what = await reply.json();
        said.textContent = what.fault || what.signed.join("; ");
        if (reply.ok) { typing = false; } else { send.disabled = false; }
      } catch {
        said.textContent = "mixlint watch does not answer.";
        send.disabled = false;
      }
    });
    return form;
  };

  const rows = async () => {
    const answer = await fetch("rows", { cache: "no-store" });
    if (!answer.ok) return;
    const places = new Map();
    for (const one of document.querySelectorAll("[data-fingerprint]")) places.set(one.dataset.fingerprint, one);
    const rest = made("section", "", { className: "signing" });
    for (const row of (await answer.json()).rows) {
      const place = places.get(row.fingerprint);
      const folded = place && place.querySelector("details.rest");
      if (folded) {
        folded.querySelector("summary").textContent = row.verdict === "open" ? "answer it here" : "evidence, and sign it off here";
        folded.append(form(row));
        continue;
      }
      const detail = made("details", "", { className: "rest" });
      const message = row.verdict === "open" && row.question ? row.question : row.message;
      detail.append(
        made("summary", `${row.about}: ${message} (${row.verdict}, ${row.grade}, ${row.rule})`),
        made("pre", row.line), form(row),
      );
      rest.append(detail);
    }
    if (rest.firstChild) {
      rest.prepend(made("h2", "Sign, or answer"));
      document.body.append(rest);
    }
  };

  look();
  rows().catch(() => {});
})();
