(function () {
  "use strict";
  var page = document;
  var said = page.getElementById("said");
  var sessions = Array.prototype.slice.call(page.querySelectorAll("article.session"));

  function all(where, what) { return Array.prototype.slice.call(where.querySelectorAll(what)); }

  function tell(text) {
    said.textContent = "";
    setTimeout(function () { said.textContent = text; }, 50);
  }

  function fits(row, wanted) {
    return ["grade", "area", "family"].every(function (name) {
      var value = wanted[name];
      return value ? row.getAttribute("data-" + name).split("|").indexOf(value) !== -1 : true;
    }) ? (wanted.channel ? heard(row).indexOf(wanted.channel) !== -1 : true) : false;
  }

  function heard(row) {
    return all(row, ".channel, .message").map(function (one) { return one.textContent; }).join(" ").toLowerCase();
  }

  function fold(session, open) {
    all(session, "details.fold").forEach(function (one) { one.open = open; });
  }

  function filter(session) {
    var form = session.querySelector("form.filter");
    var wanted = {};
    all(form, "select, input").forEach(function (one) { wanted[one.name] = one.value.trim().toLowerCase(); });
    var asked = Object.keys(wanted).some(function (name) { return wanted[name] !== ""; });
    var rows = all(session, ".row");
    var shown = 0;
    rows.forEach(function (row) {
      var fit = asked ? fits(row, wanted) : true;
      row.classList.toggle("off", !fit);
      if (fit) { shown += 1; }
    });
    all(session, ".holds-rows").reverse().forEach(function (one) {
      one.classList.toggle("empty", one.querySelector(".row:not(.off)") === null);
    });
    if (session.hasAttribute("data-folded")) { fold(session, asked); }
    form.querySelector("output").textContent = asked ? shown + " of " + rows.length + " rows shown" : "";
    session.classList.toggle("filtered", asked);
  }

  function clear(session) {
    session.querySelector("form.filter").reset();
    filter(session);
  }

  function reach(hash) {
    var id;
    try { id = decodeURIComponent(hash.slice(1)); } catch (e) { return; }
    var row = id ? page.getElementById(id) : null;
    if (row === null) { return; }
    if (row.closest(".row.off, .holds-rows.empty")) { clear(row.closest("article.session")); }
    for (var at = row.parentElement; at !== null; at = at.parentElement) {
      if (at.tagName === "DETAILS") { at.open = true; }
    }
    if (row.classList.contains("row")) {
      row.tabIndex = -1;
      row.scrollIntoView();
      row.focus({ preventScroll: true });
    }
  }

  function byHand(text) {
    var area = page.createElement("textarea");
    area.value = text;
    area.className = "only-heard";
    page.body.appendChild(area);
    area.select();
    var done = false;
    try { done = page.execCommand("copy"); } catch (e) { done = false; }
    page.body.removeChild(area);
    return done;
  }

  function copy(text, button, what) {
    var was = button.getAttribute("data-was") || button.textContent;
    button.setAttribute("data-was", was);
    function end(done) {
      button.textContent = done ? "copied" : "not copied";
      tell(done ? what + " copied" : what + " not copied: the browser does not allow it");
      button.focus({ preventScroll: true });
      setTimeout(function () { button.textContent = was; }, 2000);
    }
    if (navigator.clipboard) {
      navigator.clipboard.writeText(text).then(function () { end(true); }, function () { end(byHand(text)); });
    } else {
      end(byHand(text));
    }
  }

  function keepWords(text) {
    var words = text.textContent.split(" ");
    text.textContent = "";
    words.forEach(function (word, place) {
      var whole = page.createElement("span");
      whole.textContent = word;
      text.append(place === 0 ? "" : " ", whole);
    });
  }

  function offer(text) {
    var row = text.closest(".row");
    var name = row === null ? "the lines for the standard" : "the line for " + row.querySelector(".channel").textContent;
    var button = page.createElement("button");
    button.type = "button";
    button.className = "copy";
    button.textContent = "copy";
    button.setAttribute("aria-label", "copy " + name);
    if (row !== null) { keepWords(text); }
    text.parentElement.appendChild(button);
  }

  page.addEventListener("toggle", function (event) {
    if (event.target.classList.contains("rest")) { all(event.target, "p.sign > code:only-child").forEach(offer); }
  }, true);

  page.addEventListener("click", function (event) {
    var link = event.target.closest("a.anchor");
    var button = event.target.closest("button.copy");
    if (link !== null) {
      event.preventDefault();
      history.replaceState(null, "", link.getAttribute("href"));
      copy(location.href.split("#")[0] + link.getAttribute("href"), link, "Link to this row");
    }
    if (button !== null) {
      copy(button.previousElementSibling.textContent, button, "Line");
    }
  });

  sessions.forEach(function (session) {
    var form = session.querySelector("form.filter");
    if (form === null) { return; }
    var waits = 0;
    form.hidden = false;
    form.addEventListener("submit", function (event) { event.preventDefault(); filter(session); });
    form.addEventListener("reset", function () { setTimeout(function () { filter(session); }, 0); });
    form.addEventListener("input", function (event) {
      clearTimeout(waits);
      waits = setTimeout(function () { filter(session); }, event.target.tagName === "INPUT" ? 200 : 0);
    });
    form.addEventListener("keydown", function (event) {
      if (event.key === "Escape") { clear(session); }
    });
    if (session.hasAttribute("data-folded")) { fold(session, false); }
  });

  all(page, ".table > pre").forEach(offer);
  window.addEventListener("hashchange", function () { reach(location.hash); });
  if (location.hash) { reach(location.hash); }
}());
