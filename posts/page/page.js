(function () {
  "use strict";
  var form = document.getElementById("filter"), find = document.getElementById("find");
  var selects = Array.prototype.slice.call(form.querySelectorAll("select"));
  var cards = Array.prototype.slice.call(document.querySelectorAll("#shelf > li"));
  var count = document.getElementById("count"), none = document.getElementById("none");
  function show() {
    var words = find.value.toLowerCase().split(/\s+/).filter(Boolean), shown = 0;
    cards.forEach(function (card) {
      var fits = words.every(function (w) { return card.dataset.words.indexOf(w) !== -1; }) &&
        selects.every(function (s) { return s.value === "" || card.dataset[s.id] === s.value; });
      card.hidden = !fits;
      if (fits) { shown++; }
    });
    count.textContent = (shown === cards.length ? "" : shown + " of ") + cards.length + (cards.length === 1 ? " fixture" : " fixtures");
    none.hidden = shown !== 0;
  }
  form.addEventListener("input", show);
  form.addEventListener("change", show);
  form.addEventListener("submit", function (e) { e.preventDefault(); });
  form.addEventListener("reset", function (e) {
    e.preventDefault();
    find.value = "";
    selects.forEach(function (s) { s.value = ""; });
    show();
    find.focus();
  });
  document.addEventListener("keydown", function (e) {
    var typing = /^(INPUT|SELECT|TEXTAREA)$/.test(document.activeElement.tagName);
    if (e.key === "/" && !typing && !e.ctrlKey && !e.metaKey && !e.altKey) {
      e.preventDefault();
      find.focus();
      find.select();
    } else if (e.key === "Escape" && document.activeElement === find) {
      find.value = "";
      show();
    }
  });
  if (cards.length > 0) { form.hidden = false; }
  show();
})();
