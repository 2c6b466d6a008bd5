// The quarter y, z >= 0 of the air about a closed cabinet with one cone behind a plate with
// two mouths. x forward, y to the left, z up, m. "fine" scales all lengths of edges.
SetFactory("OpenCASCADE");
DefineConstant[ fine = 1, inner = 0.165, layer = 0.2, outer = 0.28 ];
Geometry.OCCBoundsUseStl = 1;
width = 0.18; height = 0.23; depth = 0.1;      // cabinet
plate = 0.012;                                 // thickness
mouthWidth = 0.05; mouthLow = 0.015; mouthHigh = 0.095;
roomWidth = 0.1352; roomHigh = 0.095; room = 0.015; // chamber
piston = 0.13;
middle = -0.05;
Box(1) = {-1, 0, 0, 2, 1, 1};
Sphere(2) = {middle, 0, 0, outer};
BooleanIntersection(3) = { Volume{1}; Delete; }{ Volume{2}; Delete; };
Box(4) = {-depth, 0, 0, depth, width/2, height/2};
BooleanDifference(5) = { Volume{3}; Delete; }{ Volume{4}; Delete; };
Box(6) = {-1, 0, 0, 2, 1, 1};
Sphere(7) = {middle, 0, 0, layer};
BooleanIntersection(8) = { Volume{6}; Delete; }{ Volume{7}; Delete; };
Box(9) = {-1, 0, 0, 2, 1, 1};
Sphere(10) = {middle, 0, 0, inner};
BooleanIntersection(11) = { Volume{9}; Delete; }{ Volume{10}; Delete; };
v() = BooleanFragments{ Volume{5}; Delete; }{ Volume{8, 11}; Delete; };
// What the shells have inside the cabinet goes.
Box(100) = {-depth, 0, 0, depth, width/2, height/2};
w() = BooleanDifference{ Volume{v()}; Delete; }{ Volume{100}; Delete; };
Box(201) = {-plate/2, 0, mouthLow, plate/2, mouthWidth/2, mouthHigh-mouthLow};
Box(202) = {-plate, 0, mouthLow, plate/2, mouthWidth/2, mouthHigh-mouthLow};
Box(203) = {-plate-room, 0, 0, room, roomWidth/2, roomHigh};
Disk(5000) = {0, 0, 0, piston/2};
Rotate {{0,1,0}, {0,0,0}, Pi/2} { Surface{5000}; }
Translate {-plate-room, 0, 0} { Surface{5000}; }
Box(300) = {-1, 0, 0, 2, 1, 1};
d() = BooleanIntersection{ Surface{5000}; Delete; }{ Volume{300}; Delete; };
parts() = BooleanFragments{ Volume{w(), 201, 202, 203}; Delete; }{ Surface{d()}; Delete; };
Coherence;
e = 1e-4;
cone() = Surface In BoundingBox {-plate-room-e, -e, -e, -plate-room+e, piston/2+e, piston/2+e};
Physical Surface("cone", 1) = {cone()};
all() = Volume{:};
ball() = Volume In BoundingBox {middle-layer-0.01, -e, -e, middle+layer+0.01, layer+0.01, layer+0.01};
near() = Volume In BoundingBox {middle-inner-0.01, -e, -e, middle+inner+0.01, inner+0.01, inner+0.01};
all() -= ball(); ball() -= near();
Physical Volume("near", 1) = near();
Physical Volume("shell", 2) = ball();
Physical Volume("layer", 3) = all();
rim() = Curve In BoundingBox {-plate-e, -e, mouthLow-e, e, mouthWidth/2+e, mouthHigh+e};
edge() = Curve In BoundingBox {-depth-e, width/2-e, -e, e, width/2+e, height/2+e};
edge() += Curve In BoundingBox {-depth-e, -e, height/2-e, e, width/2+e, height/2+e};
Field[1] = Distance; Field[1].CurvesList = {rim()}; Field[1].NumPointsPerCurve = 100;
Field[2] = Threshold; Field[2].InField = 1; Field[2].SizeMin = 0.003*fine; Field[2].SizeMax = 0.022*fine; Field[2].DistMin = 0; Field[2].DistMax = 0.07;
Field[3] = Distance; Field[3].CurvesList = {edge()}; Field[3].NumPointsPerCurve = 100;
Field[4] = Threshold; Field[4].InField = 3; Field[4].SizeMin = 0.008*fine; Field[4].SizeMax = 0.022*fine; Field[4].DistMin = 0; Field[4].DistMax = 0.06;
Field[5] = Box; Field[5].VIn = 0.0065*fine; Field[5].VOut = 0.022*fine; Field[5].XMin = -plate-room; Field[5].XMax = -plate; Field[5].YMin = 0; Field[5].YMax = roomWidth/2; Field[5].ZMin = 0; Field[5].ZMax = roomHigh;
Field[6] = Min; Field[6].FieldsList = {2, 4, 5};
Background Field = 6;
Mesh.MeshSizeExtendFromBoundary = 0; Mesh.MeshSizeFromPoints = 0; Mesh.MeshSizeFromCurvature = 0;
Mesh.Algorithm3D = 1; Mesh.Optimize = 1; Mesh.MshFileVersion = 2.2;
