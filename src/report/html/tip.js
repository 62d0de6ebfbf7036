// Shows on tap what a mouse shows on hovering: the title of the mark that was tapped.
document.addEventListener("click", function (event) {
  var tip = document.getElementById("tip");
  var mark = event.target, title = null;
  for (; mark && mark.nodeName !== "svg" && mark.children; mark = mark.parentNode) {
    for (var child of mark.children) if (child.nodeName === "title") title = title || child;
    if (title) break;
  }
  if (!tip) {
    tip = document.createElement("p");
    tip.id = "tip";
    tip.setAttribute("role", "status");
    document.body.appendChild(tip);
  }
  var inDrawing = title && mark.namespaceURI === "http://www.w3.org/2000/svg";
  tip.textContent = inDrawing ? title.textContent : "";
  tip.hidden = !inDrawing;
});
